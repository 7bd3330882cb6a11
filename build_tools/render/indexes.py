"""The pages that list all entries of a kind: words by letter and by topic, the rest by what they belong to."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable
from itertools import groupby
from typing import Any

from build_tools.library import Library
from build_tools.render.doing import measure_list, sheet_list
from build_tools.render.count import OF
from build_tools.render.kinds import SECTIONS
from build_tools.render.lesson import lesson_list
from build_tools.render.plate import plate_list
from build_tools.render.prose import escape
from build_tools.render.saying import saying_list
from build_tools.render.symptom import symptom_list
from build_tools.render.view import View



def index_pages(library: Library) -> dict[str, str]:
    """One list for each kind that has entries, and the words once more by topic."""
    made = {}
    for kind, section in SECTIONS.items():
        view = View(library, f"{section.folder}/index.md")
        made[view.path] = _heading(section.title, section.about) + _list_of(_BODIES.get(kind, _by_name)(library.of_kind(kind), view))
    topics = View(library, "terms/by-topic.md")
    made[topics.path] = _heading("Words by topic", "The same words, grouped by what they belong to.") + _list_of(_topics(library.of_kind("term"), topics))
    return made


def _list_of(body: str) -> str:
    """A list of links is navigation, in which no further words are linked."""
    return f'<nav aria-label="Entries" markdown="1">\n\n{body}\n</nav>\n'


def _heading(title: str, about: str) -> str:
    return f"# {title}\n\n{about}\n\n"


def _words(terms: tuple[Any, ...], view: View) -> str:
    """All words and their other names by letter, as one would leaf through a glossary."""
    rows = sorted(_leaves(terms, view), key=lambda row: _folded(row[0]))
    by_letter = {letter: list(group) for letter, group in groupby(rows, key=lambda row: _letter(row[0]))}
    jumps = " ".join(f"[{_shown(letter)}](#words-{letter.lower()})" for letter in by_letter)
    parts = [f"[By topic](by-topic.md)\n\n{jumps}\n{{: .letters }}\n"]
    for letter, found in by_letter.items():
        parts.append(f"## {_shown(letter)} {{#words-{letter.lower()}}}\n\n" + "\n".join(text for _, text in found))
    return "\n".join(parts)


def _leaves(terms: tuple[Any, ...], view: View) -> Iterable[tuple[str, str]]:
    for term in terms:
        yield term.word, f"{view.link(term.ref)}\n:   {view.plain_line(term.definition)}\n"
        for name in dict.fromkeys((*term.also, *term.american, *term.plain)):
            if name.lower() != term.word.lower():
                yield name, f"{escape(name)}\n:   see {view.link(term.ref)}\n"


def _shown(letter: str) -> str:
    return "0–9" if letter == "0" else letter


def _folded(word: str) -> str:
    """The word as a glossary sorts it: small letters, accents left out."""
    return "".join(sign for sign in unicodedata.normalize("NFKD", word.lower()) if not unicodedata.combining(sign))


def _letter(word: str) -> str:
    first = _folded(word)[0].upper()
    return first if "A" <= first <= "Z" else "0"


def _topics(terms: tuple[Any, ...], view: View) -> str:
    says = {row.name: row.says or row.name for row in view.library.table("topics")}
    return _grouped(terms, lambda term: says.get(term.topic, term.topic), lambda term: view.plain_line(term.definition), view)


def _features(features: tuple[Any, ...], view: View) -> str:
    says = {row.name: row.says or row.name for row in view.library.table("facets")}
    return _grouped(features, lambda entry: says.get(entry.facet, entry.facet), lambda entry: view.plain_line(entry.what), view)


def _outcomes(entries: tuple[Any, ...], view: View) -> str:
    return _list(entries, lambda entry: view.plain_line(entry.what), view)


def _calculations(entries: tuple[Any, ...], view: View) -> str:
    ordered = sorted(entries, key=lambda entry: (entry.topic, entry.order, entry.id))
    return _grouped(ordered, lambda entry: entry.topic, lambda entry: "", view)


def _counts(entries: tuple[Any, ...], view: View) -> str:
    return _grouped(sorted(entries, key=lambda entry: entry.name), lambda entry: OF[entry.of][1], _wheels, view)


def _wheels(entry: Any) -> str:
    """The wheels and pinions in one line, which is how one count is found among forty."""
    return escape(" – ".join("/".join(str(part) for part in (arbor.pinion, arbor.wheel or arbor.escape) if part) for arbor in entry.arbors))


def _questions(entries: tuple[Any, ...], view: View) -> str:
    return _grouped(entries, lambda entry: entry.group, lambda entry: "", view)


def _by_name(entries: tuple[Any, ...], view: View) -> str:
    return _list(sorted(entries, key=lambda entry: entry.name.lower()), lambda entry: "", view)


def _grouped(entries: Iterable[Any], group: Callable[[Any], str], says: Callable[[Any], str], view: View) -> str:
    """A heading for each group in the order in which they first appear, with the entries below it."""
    groups: dict[str, list[Any]] = {}
    for entry in entries:
        groups.setdefault(group(entry), []).append(entry)
    return "\n".join(f"## {escape(name[:1].upper() + name[1:])}\n\n{_list(found, says, view)}" for name, found in groups.items())


def _list(entries: Iterable[Any], says: Callable[[Any], str], view: View) -> str:
    """The entries by name, each with a sentence where there is one."""
    lines = []
    for entry in entries:
        text = says(entry)
        lines.append(f"{view.link(entry.ref)}\n:   {text}\n" if text else f"- {view.link(entry.ref)}")
    return "\n".join(lines) + "\n"


_BODIES = {
    "term": _words, "train": _outcomes, "addon": _outcomes, "feature": _features, "symptom": symptom_list,
    "calculation": _calculations, "count": _counts, "question": _questions,
    "saying": saying_list, "measure": measure_list, "lesson": lesson_list, "sheet": sheet_list,
    "plate": plate_list,
}
