"""Things done by hand, step by step: a measurement, and the sheets that go to the clock."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from build_tools.model import Measure, Sheet
from build_tools.model_parts import Doing, SheetPart
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View, indented

PILES = {"set-up cards": "Set-up cards", "logs": "Logs", "records": "Records"}


def measure(entry: Measure, view: View) -> list[str]:
    """What it takes, the steps, and how far the result is usually out."""
    return [
        f"{view.prose(entry.what)}\n{{: .lead }}\n",
        view.note(entry.basis),
        view.cautions(entry.cautions),
        view.section("What you need", entry.need),
        "## How to do it\n\n" + steps(entry.steps, view),
        view.section("For example", entry.example),
        view.section("How far it is usually out", entry.error),
        view.section("The usual mistake", entry.mistake),
        view.items("The sums that need it", [f"[[{ref}]]" for ref in entry.calculations]),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def steps(done: Sequence[Doing], view: View) -> str:
    """A numbered list; what can hurt is said in front of the step in which it can."""
    return "\n".join(f"1.  {_step(step, view)}\n" for step in done)


def _step(step: Doing, view: View) -> str:
    careful = view.cautions(step.cautions)
    return indented((careful + "\n" if careful else "") + view.prose(step.do))


def measure_list(entries: Sequence[Measure], view: View) -> str:
    """The measurements in the order of the bench."""
    return "\n".join(f"{view.link(entry.ref)}\n:   {view.plain_line(entry.what)}\n" for entry in sorted(entries, key=lambda one: one.order))


def sheet(entry: Sheet, view: View) -> list[str]:
    """What it is for, then its parts, as they are to be printed."""
    for_what = f"For: {view.links(entry.of)}\n{{: .kind }}\n" if entry.of else ""
    return [
        f"{view.prose(entry.what)}\n{{: .lead }}\n",
        view.note(entry.basis),
        for_what,
        view.cautions(entry.cautions),
        *(_part(part, view) for part in entry.parts),
        view.prose(entry.note) + "\n" if entry.note else "",
        view.items("The sums", [f"[[{ref}]]" for ref in entry.calculations]),
    ]


def _part(part: SheetPart, view: View) -> str:
    parts = [
        f"## {escape(part.title)}\n",
        view.cautions(part.cautions),
        view.prose(part.text) + "\n" if part.text else "",
        steps(part.steps, view),
        _blanks(part.blanks),
        _to_fill_in(part),
    ]
    return "\n".join(text for text in parts if text)


def _blanks(labels: Sequence[str]) -> str:
    """Lines to write on, each behind what belongs there."""
    rows = "\n".join(f"<li><span>{escape(label)}</span></li>" for label in labels)
    return f'<ul class="blanks">\n{rows}\n</ul>\n' if rows else ""


def _to_fill_in(part: SheetPart) -> str:
    """A table with empty cells; the first column may be filled, and an ellipsis there leaves a row free."""
    if not part.columns:
        return ""
    firsts = part.rows or [""] * part.empty_rows
    cells = [[escape(first.strip("…")) or "&nbsp;", *["&nbsp;"] * (len(part.columns) - 1)] for first in firsts]
    return f'<div class="fill" markdown="1">\n\n{table([escape(head) for head in part.columns], cells, label=escape(part.title))}\n</div>\n'


def sheet_list(entries: Sequence[Sheet], view: View) -> str:
    """The sheets by pile, each in its order."""
    ordered = sorted(entries, key=lambda entry: (list(PILES).index(entry.group), entry.order))
    parts = []
    for pile, found in groupby(ordered, key=lambda entry: entry.group):
        rows = [f"{view.link(entry.ref)}\n:   {view.plain_line(entry.what)}\n" for entry in found]
        parts.append(f"## {PILES[pile]}\n\n" + "\n".join(rows))
    return "\n".join(parts)
