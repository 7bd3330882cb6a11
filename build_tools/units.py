"""Units and their exact worth, from the table in kb/constants/units.yaml."""
from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.number import Number, NumberError, read_number
from build_tools.spelling import plainly

if TYPE_CHECKING:
    from build_tools.model_parts import Row

_NUMBER = r"[+\-\u2212]?\s*(?:[0-9]+[ -][0-9]+ ?/ ?[0-9]+(?![A-Za-z])|[0-9]+ ?/ ?[0-9]+|[0-9]{1,3}(?: [0-9]{3})+(?:[.,·][0-9]+)?|[0-9.,·]+(?:[eE][+\-]?[0-9]+)?\s?[½¼¾⅓⅔⅛⅜⅝⅞]?|[½¼¾⅓⅔⅛⅜⅝⅞])"
_UNIT = r"1?/°?[A-Za-z]+|[^0-9\s+\-\u2212.,/:](?:[^\s0-9]*[A-Za-z^][23](?![0-9A-Za-z.,])|[^\s0-9]*)(?: [A-Za-z][^\s0-9]*)*"
_PIECE = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})?")
_HYPHEN = re.compile(r"(?<=[0-9])-(?=[A-Za-z])")  # an 8-day clock
_TIME = re.compile(r"([0-9]{1,4}):([0-9][0-9])(?::([0-9][0-9](?:\.[0-9]+)?))?")
_TIME_PARTS = {"h": ("h", "min", "s"), "min": ("min", "s"), "s": ("min", "s")}


@dataclass(frozen=True)
class Unit:
    """One unit: its worth is exact and in the base unit; units of one base convert into one another."""
    name: str
    says: str
    worth: Fraction
    base: str
    symbol: str
    spellings: tuple[str, ...]


class Units:
    """All units by name and by every spelling that is read."""

    def __init__(self, units: Iterable[Unit]) -> None:
        self._units = {unit.name: unit for unit in units}
        self._spellings = {
            (unit.base, spelling.lower()): unit for unit in self._units.values()
            for spelling in (*unit.spellings, unit.says, unit.symbol, unit.name)
        }

    def __contains__(self, name: str) -> bool:
        return name in self._units

    def __getitem__(self, name: str) -> Unit:
        return self._units[name]

    def __iter__(self) -> Iterator[Unit]:
        return iter(self._units.values())

    def find(self, spelling: str, like: str) -> Unit:
        """The unit so named or spelt, one that measures what `like` does before any other.

        Raises NumberError when there is none.
        """
        bases = (self._units[like].base, *dict.fromkeys(unit.base for unit in self))
        for written in (spelling, spelling.lower().strip().rstrip(".")):
            for base in bases:
                if (base, written) in self._spellings:
                    return self._spellings[base, written]
        raise NumberError(f"there is no unit called {spelling}")

    def alike(self, name: str) -> tuple[Unit, ...]:
        """The units that the named one converts into, itself first."""
        unit = self._units[name]
        return (unit, *(other for other in self if other.base == unit.base and other != unit))

    def convert(self, value: Number, old: str, new: str) -> Number:
        """The value, counted in old units, in new ones; a pitch and the threads an inch turn into one another too.

        Raises NumberError when they measure different things.
        """
        if old == new:
            return value
        first, second = self._units[old], self._units[new]
        if first.base == second.base:
            return value * (first.worth / second.worth)
        if f"1/{first.base}" != second.base and f"1/{second.base}" != first.base:
            raise NumberError(f"{first.name} can't be turned into {second.name}")
        if value == 0:
            raise NumberError(f"0 {first.name} can't be turned into {second.name}")
        return 1 / (value * (first.worth * second.worth))

    def symbol(self, name: str) -> str:
        """How the unit is printed after a number; a unit that isn't in the table prints as it is."""
        return self._units[name].symbol if name in self._units else name


def read_units(rows: Iterable[Row]) -> Units:
    """The units of the rows of constant:units (name, says, value, unit, symbol, also)."""
    return Units(
        Unit(row.name, row.says, read_number(row.value), row.unit, row.symbol or row.name, row.also)
        for row in rows
    )


def read_quantity(text: str, unit: str, units: Units) -> tuple[Fraction, str]:
    """Reads "39.14", "39.14 in" or "1 h 30 min" for a field counted in `unit`.

    Gives the value in `unit` and the unit that was typed last ("" when none was). Raises NumberError.
    """
    text = plainly(text, unit)
    pieces = _pieces(text, unit)
    if len(pieces) == 1 and not pieces[0][1]:
        return read_number(text), ""
    if not unit:
        raise NumberError(f"a plain number is wanted here, without '{pieces[0][1] or pieces[-1][1]}'")
    total, sign = Fraction(0), -1 if text.strip()[:1] in "-\u2212" else 1
    for number, spelling in pieces:
        if not spelling:
            raise NumberError(f"'{text.strip()}' leaves the unit of {number} open")
        found = units.find(spelling, unit)
        total += abs(Fraction(units.convert(read_number(number), found.name, unit)))
    return sign * total, found.name


def last_piece(text: str, unit: str) -> tuple[str, str]:
    """The last number of a typed quantity, whose last digit says how fine the whole is, and the unit that follows it ("" when none does)."""
    return _pieces(plainly(text, unit), unit)[-1]


def _pieces(text: str, unit: str) -> list[tuple[str, str]]:
    return _time(text, unit) or split_quantity(text)


def _time(text: str, unit: str) -> list[tuple[str, str]]:
    """The pieces of "12:30", hours and minutes for a field in hours, minutes and seconds for one in less; [] for anything else."""
    match = _TIME.fullmatch(text.strip())
    parts = _TIME_PARTS.get("h" if match and match[3] else unit) if match and unit in _TIME_PARTS else None
    return [piece for piece in zip(match.groups(), parts) if piece[0]] if match and parts else []


def split_quantity(text: str) -> list[tuple[str, str]]:
    """The numbers of a typed quantity, each with the unit that follows it ("" when none does)."""
    pieces, position, text = [], 0, _HYPHEN.sub(" ", text.strip())
    while position < len(text):
        match = _PIECE.match(text, position)
        if not match:
            return [(text, "")]
        pieces.append((match[1].strip(), match[2] or ""))
        position = match.end()
    return pieces or [(text, "")]
