"""The pages that others point to: constants, melodies, cautions and sources."""

from __future__ import annotations

from typing import Any

from build_tools.model import Caution, Constant, Melody, Source
from build_tools.render.pictures import barrel_of
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View

EXACTNESS = {"exact": "Exact by definition.", "measured": "Measured.", "conventional": "Agreed by convention."}


def constant(entry: Constant, view: View) -> list[str]:
    """One value with its uncertainty, or a table of rows."""
    return [
        _value(entry),
        view.note(entry.basis),
        view.cautions(entry.cautions),
        view.prose(entry.note) + "\n" if entry.note else "",
        view.section("Uncertainty", entry.uncertainty),
        _rows(entry, view),
    ]


def _value(entry: Constant) -> str:
    if not entry.value:
        return ""
    symbol = f"*{escape(entry.symbol)}* = " if entry.symbol else ""
    return f"{symbol}{escape(entry.value)} {escape(entry.unit)}\n{{: .lead }}\n\n{EXACTNESS.get(entry.exactness, '')}\n"


def _rows(entry: Constant, view: View) -> str:
    """The table of the rows with every column that something stands in; its own columns are explained above it."""
    own = [column for column in entry.columns if any(row.cells.get(column.name) for row in entry.rows)]
    first = [name for name in ("name", "symbol", "says", "value", "unit") if any(getattr(row, name, None) for row in entry.rows)]
    cells = [
        [_cell(getattr(row, name, ""), view) for name in first] + [_cell(row.cells.get(column.name), view) for column in own] + [_cell(row.basis, view)]
        for row in entry.rows
    ]
    heads = [_head(name) for name in (*first, *(column.name for column in own), "basis")]
    if not any(row.basis for row in entry.rows):
        heads, cells = heads[:-1], [row[:-1] for row in cells]
    told = "\n".join(f"{_head(column.name)}\n:   {view.prose(column.says)}\n" for column in own)
    return told + "\n" + table(heads, cells, label=entry.name) if entry.rows else ""


def _head(name: str) -> str:
    return escape(name.replace("_", " ").capitalize())


def _cell(value: Any, view: View) -> str:
    if isinstance(value, tuple):
        return view.basis(value)
    return view.prose(", ".join(map(str, value)) if isinstance(value, list) else str(value or ""))


def melody(entry: Melody, view: View) -> list[str]:
    """The bells with their notes, the phrases, and which of them sound at each quarter."""
    phrases = {phrase.id: phrase for phrase in entry.phrases}
    quarters = [[part.capitalize(), ", ".join(ids), " – ".join(_bells(phrases[name].bells) for name in ids)] for part, ids in entry.quarters.items()]
    return [
        f"{view.prose(entry.about)}\n{{: .lead }}\n",
        view.note(entry.basis),
        barrel_of(entry),
        "## The bells\n\n" + table(["Bell", "Note"], [[str(bell.id), escape(bell.note)] for bell in entry.bells], label="Bells"),
        "## The quarters\n\nBell 1 is the highest.\n\n" + table(["Quarter", "Phrases", "Bells in order"], quarters, label="Quarters"),
        f"The hour is struck on {escape(entry.hour_note)}.\n" if entry.hour_note else "",
        view.section("Rights", entry.rights),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def _bells(bells: tuple[int, ...]) -> str:
    return " ".join(str(bell) for bell in bells)


def caution(entry: Caution, view: View) -> list[str]:
    """What to do, why, and where it is said."""
    return [
        f"{view.prose(entry.text)}\n{{: .lead }}\n",
        view.note(entry.basis),
        "An owner stops here; the rest is for a qualified person.\n" if entry.owner_stops else "",
        view.section("Why", entry.why),
        view.section("Where it applies", entry.say_at),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def source(entry: Source, view: View) -> list[str]:
    """Who, where printed, how much of it was read, and what was taken from it."""
    facts = {
        "Author": entry.author, "Edition": entry.edition, "Rights": entry.rights,
        "Read": entry.read, "Places are given as": entry.places,
    }
    return [
        "\n".join(f"{name}\n:   {view.prose(str(text))}\n" for name, text in facts.items() if text),
        view.section("Where it was read", entry.where_read),
        view.section("What was taken from it", entry.took),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]
