"""The page of a count: its arbors, and what they give next to what a source prints."""

from __future__ import annotations

from build_tools.model import Arbor, Count
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View


def count(entry: Count, view: View) -> list[str]:
    """The arbors in order from the power, then the figures, each with its source."""
    return [
        f"A {escape(entry.of)} train, given from the power on.\n" if entry.of != "other" else "",
        view.note(entry.basis),
        view.cautions(entry.cautions),
        arbors(entry),
        _printed(entry, view),
        _used_in(entry, view),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def arbors(entry: Count) -> str:
    """The table of arbors; a column that nothing fills is left out."""
    columns = {
        "Driven": [_driven(arbor) for arbor in entry.arbors],
        "Wheel": [_wheel(arbor) for arbor in entry.arbors],
        "Remarks": [_remarks(arbor) for arbor in entry.arbors],
    }
    shown = {head: cells for head, cells in columns.items() if any(cells)}
    rows = [[escape(arbor.name), *(cells[number] for cells in shown.values())] for number, arbor in enumerate(entry.arbors)]
    return table(["Arbor", *shown], rows, label="Arbors")


def _driven(arbor: Arbor) -> str:
    if arbor.pinion:
        return f"pinion of {arbor.pinion}"
    return f"wheel of {arbor.driven}" if arbor.driven else ""


def _wheel(arbor: Arbor) -> str:
    parts = [str(arbor.wheel)] if arbor.wheel else []
    parts += [f"{arbor.escape} (escape wheel)"] if arbor.escape else []
    parts += [f"{arbor.pins} pins"] if arbor.pins else []
    return ", ".join(parts)


def _remarks(arbor: Arbor) -> str:
    parts = [f"turns once in {escape(arbor.turns_once_in)} h"] if arbor.turns_once_in else []
    parts += [f"{escape(arbor.turns)} turns of the line or spring"] if arbor.turns else []
    parts += [f"driven by {escape(arbor.driven_by)}"] if arbor.driven_by else []
    parts += [f"drives {escape(arbor.drives)}"] if arbor.drives else []
    return "; ".join(parts)


def _printed(entry: Count, view: View) -> str:
    rows = [[view.link(given.calculation), escape(given.printed), view.cited(given.source, given.place)] for given in entry.gives]
    return "## What the sources print\n\n" + table(["Sum", "Printed", "Source"], rows, label="Printed figures") if rows else ""


def _used_in(entry: Count, view: View) -> str:
    return "## Found in\n\n" + "\n".join(f"- {view.link(ref)}" for ref in entry.used_in) + "\n" if entry.used_in else ""
