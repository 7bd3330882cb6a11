"""Things done by hand, step by step: a measurement, and the sheets that go to the clock."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from build_tools.model import Measure, Sheet
from build_tools.model_parts import Doing, SheetPart
from build_tools.render.lists import numbered
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View

PILES = {"set-up cards": "Set-up cards", "logs": "Logs", "records": "Records"}
_LAYOUTS = {"set-up cards": "on-paper two-columns", "logs": "on-paper", "records": "on-paper"}

_FILLING = ("lots.js", "lots-store.js", "lots-sheet.js")


def measure(entry: Measure, view: View) -> list[str]:
    """What it takes, the steps, and how far the result is usually out."""
    return [
        f"{view.prose(entry.what)}\n{{: .lead }}\n",
        view.note(entry.basis),
        view.cautions(entry.cautions),
        view.section("What you need", entry.need),
        "## How to do it\n\n" + steps(entry.steps, view, set(entry.cautions)),
        view.section("For example", entry.example),
        view.section("How far it is usually out", entry.error),
        view.section("The usual mistake", entry.mistake),
        view.items("The sums that need it", [f"[[{ref}]]" for ref in entry.calculations]),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def steps(done: Sequence[Doing], view: View, said: set[str]) -> str:
    """A numbered list; what can hurt is said in front of the step in which it can."""
    return numbered("\n".join(filter(None, (_careful(step.cautions, view, said), view.prose(step.do)))) for step in done)


def _careful(refs: Sequence[str], view: View, said: set[str]) -> str:
    """Each caution in full where the page says it first, and by its name after that; ``said`` grows."""
    parts = []
    for ref in refs:
        again = f'<div class="caution" role="note" markdown="1">\n\n**Careful:** {view.link(ref)}, as above.\n\n</div>\n'
        parts.append(again if ref in said else view.cautions([ref]))
        said.add(ref)
    return "\n".join(parts)


def measure_list(entries: Sequence[Measure], view: View) -> str:
    """The measurements in the order of the bench."""
    return "\n".join(f"{view.link(entry.ref)}\n:   {view.plain_line(entry.what)}\n" for entry in sorted(entries, key=lambda one: one.order))


def sheet(entry: Sheet, view: View) -> list[str]:
    """What it is for, then its parts, as they are to be printed."""
    said = set(entry.cautions)
    parts = "\n".join(_part(part, view, said) for part in entry.parts)
    return [
        f"{view.prose(entry.what)}\n{{: .lead }}\n",
        view.note(entry.basis),
        f"For: {view.links(entry.of)}\n{{: .kind .for-what }}\n" if entry.of else "",
        view.cautions(entry.cautions),
        f'<div class="{_layout(entry)}" markdown="1">\n\n{parts}\n</div>\n',
        view.prose(entry.note) + "\n" if entry.note else "",
        view.items("The sums", [f"[[{ref}]]" for ref in entry.calculations]),
        _scripts(view) if any(part.answers for part in entry.parts) else "",
    ]


def _layout(entry: Sheet) -> str:
    """The classes of the paper; what covers both sides may be set larger than what must fit on one."""
    return _LAYOUTS[entry.group] + (" two-sides" if any(part.new_side for part in entry.parts) else "")


def _scripts(view: View) -> str:
    """What fills a sheet from the answers that this device remembers."""
    return "\n".join(f'<script src="../{view.to("js/" + name)}" defer></script>' for name in _FILLING) + "\n"


def _part(part: SheetPart, view: View, said: set[str]) -> str:
    parts = [
        f"## {escape(part.title)}\n",
        _careful(part.cautions, view, said),
        view.prose(part.text) + "\n" if part.text else "",
        steps(part.steps, view, said),
        _from_key(part.answers),
        _blanks(part.blanks),
        _to_fill_in(part),
    ]
    style = "part next-side" if part.new_side else "part"
    return f'<section class="{style}" markdown="1">\n\n' + "\n".join(text for text in parts if text) + "\n</section>\n"


def _from_key(questions: Sequence[str]) -> str:
    """A place for what was answered in the key, filled by the page's script."""
    ids = " ".join(ref.partition(":")[2] for ref in questions)
    return f'<ul class="from-key" data-questions="{ids}" hidden></ul>\n' if ids else ""


def _blanks(labels: Sequence[str]) -> str:
    """Lines to write on, each behind what belongs there."""
    rows = "\n".join(f"<li><span>{escape(label)}</span></li>" for label in labels)
    return f'<ul class="to-fill">\n{rows}\n</ul>\n' if rows else ""


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
