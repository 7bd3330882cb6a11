"""The pages that others point to: constants, melodies, cautions and sources."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.model import Caution, Constant, Source
from build_tools.model_parts import Column
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
    """The table of the rows: what each is first, its name in the files last; the columns of its own are explained above it."""
    own = [column for column in entry.columns if any(row.cells.get(column.name) for row in entry.rows)]
    told = "\n".join(f"{_head(column.name)}\n:   {view.prose(column.says)}\n" for column in own)
    columns = [(head, cells) for head, cells in _columns(entry, own) if any(cells)]
    rows = [[_cell(cells[place], view) for _, cells in columns] for place in range(len(entry.rows))]
    return told + "\n" + table([head for head, _ in columns], rows, label=entry.name) if entry.rows else ""


def _columns(entry: Constant, own: list[Column]) -> Iterator[tuple[str, list[Any]]]:
    """Head and cells of every column that the table may have; a row without a description is called by its name."""
    names, says = [row.name for row in entry.rows], [row.says for row in entry.rows]
    yield ("What it is", says) if any(says) else ("Name", names)
    for name in ("symbol", "value", "unit"):
        yield _head(name), [getattr(row, name) for row in entry.rows]
    for column in own:
        yield _head(column.name), [row.cells.get(column.name) for row in entry.rows]
    if any(says):
        yield "In the files", names
    yield "Where from", [row.basis for row in entry.rows]


def _head(name: str) -> str:
    return escape(name.replace("_", " ").capitalize())


def _cell(value: Any, view: View) -> str:
    if isinstance(value, tuple):
        return view.basis(value)
    if isinstance(value, list):
        return ", ".join(view.link(item) if item in view.library else view.prose(str(item)) for item in value)
    return view.prose(str(value or ""))


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
