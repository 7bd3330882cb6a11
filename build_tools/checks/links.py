"""Rules about what entries say of one another: references, links in prose, answers, rows of tables."""

from __future__ import annotations

import re
from typing import Iterator

from build_tools.library import LINK, Library
from build_tools.loaded import DataPath, field_name
from build_tools.model import Melody, Outcome, Question
from build_tools.problem import Problem, did_you_mean

_REFERENCE = re.compile(r"[a-z]+:[a-z0-9]+(-[a-z0-9]+)*\Z")


def check(library: Library) -> Iterator[Problem]:
    """Whatever an entry refers to is there, and of the right kind."""
    known = _Known(library)
    for entry in library:
        yield from malformed_links(library, entry.ref)
        yield from references(library, entry.ref, known)
        yield from table_rows(library, entry.ref)
        if isinstance(entry, Outcome):
            yield from told_answers(library, entry)
        elif isinstance(entry, Question):
            yield from unsaid_answers(library, entry)
            yield from needless_answers(library, entry)
        elif isinstance(entry, Melody):
            yield from melody_parts(library, entry)


def _problem(library: Library, code: str, ref: str, path: DataPath, what: str, hint: str, words: str = "", occurrence: int = 0) -> Problem:
    file = library.file(ref)
    place = file.place_of_words(path, words, occurrence) if words else file.place(*path)
    return Problem(code, place, field_name(path, file.data), what, hint)


class _Known:
    """Suggests the entry that a reference to nothing may have meant; each is looked for once."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.hints: dict[str, str] = {}

    def hint(self, ref: str) -> str:
        if ref not in self.hints:
            self.hints[ref] = self._hint(ref)
        return self.hints[ref]

    def _hint(self, ref: str) -> str:
        kind, _, id = ref.partition(":")
        same_name = self.library.names.get(id.replace("-", " "), ())
        if kind == "term" and len(same_name) == 1:
            return f"that is a name of {same_name[0]}: refer to it"
        otherwise = f"correct the reference, or write the entry first (the command is `new {kind} {id}`)"
        hint = did_you_mean(id, [entry.id for entry in self.library.of_kind(kind)], "")
        return hint.replace("did you mean ", f"did you mean {kind}:") or otherwise


def references(library: Library, ref: str, known: _Known) -> Iterator[Problem]:
    """A reference leads to an entry that is there, is of the wanted kind, and is not retired."""
    seen: dict[tuple[DataPath, str], int] = {}
    for path, target, mark, words in library.mentions(ref):
        occurrence = seen.get((path, words), 0)
        seen[path, words] = occurrence + 1
        if words and not _REFERENCE.match(target):
            continue
        kind = target.partition(":")[0]
        if mark.ref and kind not in mark.ref:
            yield _problem(
                library,
                "KB031",
                ref,
                path,
                f"{target} is not a {' or '.join(mark.ref)}",
                f"refer to a {mark.ref[0]}, or move the reference to `see:`",
                words,
                occurrence,
            )
        elif target in library:
            entry = library[target]
            if entry.status == "retired":
                yield _problem(
                    library,
                    "KB033",
                    ref,
                    path,
                    f"{target} is retired",
                    f"refer to {entry.replaced_by}, which took its place",
                    words,
                    occurrence,
                )
        elif target not in library.broken:
            yield _problem(library, "KB030", ref, path, f"no entry called {target}", known.hint(target), words, occurrence)


def malformed_links(library: Library, ref: str) -> Iterator[Problem]:
    """A link in prose is [[kind:id]] or [[kind:id|words]]."""
    for path, text, mark in library.marked(ref):
        if not mark.prose or ("[[" not in text and "]]" not in text):
            continue
        for link in LINK.finditer(text):
            if not _REFERENCE.match(link[1].strip()):
                yield _problem(library, "KB032", ref, path, f"{link[0]} does not name an entry", _link_hint(library, link[1]), link[0])
            elif link[2] is not None and not link[2].strip():
                yield _problem(
                    library, "KB032", ref, path, f"{link[0]} has no words after the bar", "write the words, or take the bar away", link[0]
                )
        rest = LINK.sub(lambda link: " " * len(link[0]), text)
        for sign in ("[[", "]]"):
            if sign in rest:
                yield _problem(
                    library,
                    "KB032",
                    ref,
                    path,
                    f"{sign} without its partner",
                    "a link is [[kind:id]] or [[kind:id|words]], closed in the same paragraph",
                    sign,
                    text[: rest.index(sign)].count(sign),
                )


def _link_hint(library: Library, words: str) -> str:
    named = library.names.get(words.strip().lower(), ())
    return f"write [[{named[0]}|{words.strip()}]]" if named else "write [[kind:id]] or [[kind:id|words]], such as [[term:great-wheel]]"


def table_rows(library: Library, ref: str) -> Iterator[Problem]:
    """A word that stands for a row of a constant table is one of its rows."""
    for path, text, mark in library.marked(ref):
        if not mark.row or f"constant:{mark.row}" in library.broken:
            continue
        rows = [row.name for row in library.table(mark.row)]
        if text not in rows:
            what = f'"{text}" is not a row of constant:{mark.row}'
            listed = f"choose one of: {', '.join(rows)}" if rows else f"write the table kb/constants/{mark.row}.yaml first"
            yield _problem(library, "KB038", ref, path, what, did_you_mean(text, rows, listed))


def told_answers(library: Library, outcome: Outcome) -> Iterator[Problem]:
    """`told_by` speaks only of answers that the question has."""
    for asked, answers in outcome.told_by.items():
        question = library.get(asked)
        if isinstance(question, Question):
            known = [answer.id for answer in question.answers]
            for answer in answers:
                if answer not in known:
                    yield _no_answer(library, outcome.ref, ("told_by", asked, answer), f"{asked} has no answer {answer}", known)


def unsaid_answers(library: Library, question: Question) -> Iterator[Problem]:
    """`unless_said` and `unseen` speak only of the question's own answers."""
    known = [answer.id for answer in question.answers]
    for index, answer in enumerate(question.unseen):
        if answer not in known:
            hint = did_you_mean(answer, known, f"its answers are: {', '.join(known)}")
            yield _problem(library, "KB037", question.ref, ("unseen", index), f"this question has no answer {answer}", hint)
    for answer in question.unless_said:
        if answer not in known:
            yield _no_answer(library, question.ref, ("unless_said", answer), f"this question has no answer {answer}", known)


def needless_answers(library: Library, question: Question) -> Iterator[Problem]:
    """`needless_after` speaks only of answers that the other question has."""
    for asked, answers in question.needless_after.items():
        other = library.get(asked)
        known = [answer.id for answer in other.answers] if isinstance(other, Question) else list(answers)
        for index, answer in enumerate(answers):
            if answer not in known:
                hint = did_you_mean(answer, known, f"its answers are: {', '.join(known)}")
                yield _problem(library, "KB037", question.ref, ("needless_after", asked, index), f"{asked} has no answer {answer}", hint)


def _no_answer(library: Library, ref: str, path: DataPath, what: str, known: list[str]) -> Problem:
    file = library.file(ref)
    hint = did_you_mean(str(path[-1]), known, f"its answers are: {', '.join(known)}")
    return Problem("KB037", file.key_place(*path), field_name(path, file.data), what, hint)


def melody_parts(library: Library, melody: Melody) -> Iterator[Problem]:
    """Phrases use bells that are there, and quarters use phrases that are there."""
    bells = {bell.id for bell in melody.bells}
    phrases = {phrase.id for phrase in melody.phrases}
    for number, phrase in enumerate(melody.phrases):
        for index, bell in enumerate(phrase.bells):
            if bell not in bells:
                yield _problem(
                    library,
                    "KB037",
                    melody.ref,
                    ("phrases", number, "bells", index),
                    f"there is no bell {bell}",
                    "add it under `bells:`, or correct the number",
                )
    for quarter, played in melody.quarters.items():
        for index, id in enumerate(played):
            if id not in phrases:
                yield _problem(
                    library,
                    "KB037",
                    melody.ref,
                    ("quarters", quarter, index),
                    f"there is no phrase {id}",
                    f"the phrases are: {', '.join(sorted(phrases))}",
                )
