"""The pages of the plates: named, to fill in, and the answer sheet; and the small plate on the page of each word."""
from __future__ import annotations

from collections.abc import Sequence
from html import escape as html

from build_tools.figures import plate as figures
from build_tools.figures.names import Name, in_order
from build_tools.library import Library
from build_tools.model import Plate
from build_tools.model_parts import PlatePart
from build_tools.plain_text import plain
from build_tools.render.figure import addresses, figure
from build_tools.render.prose import escape
from build_tools.render.view import View

FIND = "plates/by-look.md"
MOST = 2  # plates on the page of one word
BUSY = 14  # parts; where a plate has more, one of them is small


def plate(entry: Plate, view: View) -> list[str]:
    """The drawing first, then each part in a sentence."""
    return [
        view.cautions(entry.cautions),
        named_figure(entry, view),
        f"{view.prose(entry.about)}\n",
        view.note(entry.basis),
        f"[To fill in]({view.to(_blank_path(entry))}), with [its answers]({view.to(_answers_path(entry))})\n{{: .answers-link }}\n",
        "## The parts\n\n" + in_columns("\n".join(f"{view.link(ref)}\n:   {view.plain_line(view.library[ref].definition)}\n" for ref in dict.fromkeys(part.of for part in entry.parts))),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def in_columns(rows: str) -> str:
    """A list that stands in columns on paper."""
    return f'<div class="in-columns" markdown="1">\n\n{rows}\n\n</div>\n'


def named_figure(entry: Plate, view: View) -> str:
    """The plate with all its names."""
    return figure(figures.labelled(entry, words_in(entry, view.library), addresses(view)), style="large")


def words_in(entry: Plate, library: Library) -> dict[str, str]:
    """The word of each part by its reference."""
    return {part.of: library[part.of].word for part in entry.parts}


def plates_with(ref: str, view: View) -> str:
    """For the page of a word: the plates that show the part, lit; in their order, but those with many parts last."""
    found = sorted((entry for entry in view.library.of_kind("plate") if any(part.of == ref for part in entry.parts)), key=lambda one: (len(one.parts) > BUSY, one.order, one.id))
    drawn = []
    for entry in found[:MOST]:
        svg = figures.with_one_lit(entry, ref, words_in(entry, view.library), addresses(view))
        href = addresses(view)(entry.ref)
        drawn.append(figure(svg).replace("</figure>", f'<figcaption><a href="{href}">{escape(entry.name)}, with all names</a></figcaption></figure>'))
    return "\n".join(drawn)


def sheet_pages(library: Library) -> dict[str, str]:
    """A sheet to fill in and an answer sheet for every plate."""
    made = {}
    for entry in library.of_kind("plate"):
        made[_blank_path(entry)] = _blank(entry, library)
        made[_answers_path(entry)] = _answers(entry, library)
    return {**made, FIND: _by_look(library)}


def _by_look(library: Library) -> str:
    """Every drawn part in close-up with what it does, for whoever knows how a thing looks and not what it is called."""
    view = View(library, FIND)
    parts = ["# Find a part by what it looks like or does\n", "Each part is picked out in colour from what lies about it, with what it does. Its name leads to its page.\n{: .lead }\n"]
    for entry in sorted(library.of_kind("plate"), key=lambda one: one.order):
        rows = [_close_up(entry, part, view) for part in entry.parts if part.draw]
        parts.append(f'## {escape(entry.name)}\n\n{figures.once(entry)}<ul class="looks parts">{"".join(rows)}</ul>\n')
    return "\n".join(parts)


def _close_up(entry: Plate, part: PlatePart, view: View) -> str:
    term = view.library[part.of]
    named = f'<a href="{addresses(view)(part.of)}">{html(part.says or term.word)}</a>'
    words = html(" ".join((*term.also, *term.plain)))
    return f'<li data-words="{words}">{figures.close_up(entry, part)} {named}: {html(plain(term.definition), quote=False)}</li>'


def _blank_path(entry: Plate) -> str:
    return f"plates/{entry.id}/to-fill-in.md"


def _answers_path(entry: Plate) -> str:
    return f"plates/{entry.id}/answers.md"


def _blank(entry: Plate, library: Library) -> str:
    words = words_in(entry, library)
    return blank_sheet(entry.name, figures.to_fill_in(entry, words), figures.names_of(entry, words), View(library, _blank_path(entry)), _answers_path(entry))


def _answers(entry: Plate, library: Library) -> str:
    words = words_in(entry, library)
    view = View(library, _answers_path(entry))
    return answer_sheet(entry.name, figures.to_fill_in(entry, words), figures.names_of(entry, words), view, f"plates/{entry.id}.md")


def blank_sheet(title: str, drawn: str, names: Sequence[Name], view: View, answers: str) -> str:
    """A drawing with numbers in place of names, and a line to write on for each."""
    rows = "".join(f"<li>{number} <span></span></li>" for number, _ in in_order(names))
    drawing = figure(drawn, style="large")
    return f'# {escape(title)}: name the parts\n\n{drawing}\n<ul class="blanks">{rows}</ul>\n\n[Answers]({view.to(answers)})\n{{: .answers-link }}\n'


def answer_sheet(title: str, drawn: str, names: Sequence[Name], view: View, whole: str) -> str:
    """The same drawing with the word of each number; each `word` of the names is a reference."""
    rows = "\n".join(f"{number}. {view.link(name.word, name.says)}" for number, name in in_order(names))
    return f"# Answers: {escape(title)}\n\n{figure(drawn, style='large')}\n{in_columns(rows)}\n[With the names]({view.to(whole)})\n{{: .answers-link }}\n"


def plate_list(entries: Sequence[Plate], view: View) -> str:
    """The plates in order, each with what it shows and its sheet."""
    rows = [
        f"{view.link(entry.ref)}\n:   {view.plain_line(entry.about)} [To fill in]({view.to(_blank_path(entry))}), [answers]({view.to(_answers_path(entry))})\n"
        for entry in sorted(entries, key=lambda one: one.order)
    ]
    return f"[Find a part by what it looks like or does]({view.to(FIND)})\n\n" + "\n".join(rows)
