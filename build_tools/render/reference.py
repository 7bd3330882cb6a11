"""The pages that others point to: constants, melodies, cautions and sources."""

from __future__ import annotations

from typing import Any

from build_tools.model import Caution, Constant, Melody, Source
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View

EXACTNESS = {"exact": "Exact by definition.", "measured": "Measured.", "conventional": "Agreed by convention."}


def constant(entry: Constant, view: View) -> list[str]:
    """One value with its uncertainty, or a table of rows."""
    return [
        _value(entry),
        view.note(entry.basis),
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
    if not entry.rows:
        return ""
    shown = [name for name in ("name", "symbol", "says", "value", "unit", "basis") if any(getattr(row, name, None) for row in entry.rows)]
    return table([name.capitalize() for name in shown], [[_cell(getattr(row, name, ""), view) for name in shown] for row in entry.rows], label="Rows")


def _cell(value: Any, view: View) -> str:
    return view.basis(value) if isinstance(value, tuple) else view.prose(str(value or ""))


def melody(entry: Melody, view: View) -> list[str]:
    """The bells with their notes, the phrases, and which of them sound at each quarter."""
    phrases = {phrase.id: phrase for phrase in entry.phrases}
    quarters = [[part.capitalize(), ", ".join(ids), " – ".join(_bells(phrases[name].bells) for name in ids)] for part, ids in entry.quarters.items()]
    return [
        f"{view.prose(entry.about)}\n{{: .lead }}\n",
        view.note(entry.basis),
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
