"""Units and their exact worth, from the table in kb/constants/units.yaml."""
from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.number import Number, NumberError, in_working, read_number

if TYPE_CHECKING:
    from build_tools.model_parts import Row

_NUMBER = r"[+\-\u2212]?\s*(?:\d+[ -]\d+ ?/ ?\d+(?![A-Za-z])|\d+ ?/ ?\d+|\d{1,3}(?: \d{3})+(?:[.,·]\d+)?|[\d.,·]+(?:[eE][+\-]?\d+)?\s?[½¼¾⅓⅔⅛⅜⅝⅞]?|[½¼¾⅓⅔⅛⅜⅝⅞])"
_UNIT = r"1?/°?[A-Za-z]+|[^\d\s+\-\u2212.,/:](?:[^\s\d]*[A-Za-z^][23](?![\dA-Za-z.,])|[^\s\d]*)(?: [A-Za-z][^\s\d]*)*"
_PIECE = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})?")
_HYPHEN = re.compile(r"(?<=\d)-(?=[A-Za-z])")  # an 8-day clock
_PROPORTION = re.compile(r"\s*([+\-\u2212]?)(\d+) ?(in|:) ?(\d+)\s*")
_PART = r"(?:([\d.,·]+)\s*(?:{}))?\s*"
_RATE = re.compile(
    r"\s*([+\-\u2212]?)\s*" + _PART.format("h|hrs?|hours?") + _PART.format("m|mins?|minutes?|′|'") + r"(?:and )?" + _PART.format("s|secs?|seconds?|″|\"|''")
    + r"(?:(?:/|(?:in )?an? |per |in )\s*(h|hour|d|day|week|month|year))?\s*",
)
_PERIODS = {"hour": "h", "d": "day"}
_TIME = re.compile(r"(\d{1,4}):(\d\d)(?::(\d\d(?:\.\d+)?))?")
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


def plainly(text: str, unit: str) -> str:
    """A typed quantity as a number and its unit: "1/400" for "1:400", "148 s/day" for "2 min 28 s" in a field of rates."""
    rated = unit.partition("/")[0] in ("s", "min") and "/" in unit
    proportion = _PROPORTION.fullmatch(text)
    if proportion and rated and proportion[3] == "in":
        return f"{proportion[1]}{int(proportion[2]) * 10**6}/{proportion[4]} ppm"
    if proportion and not unit and (proportion[3] == "in" or "1" in proportion.group(2, 4)):
        return f"{proportion[1]}{proportion[2]}/{proportion[4]}"
    match = _RATE.fullmatch(text) if rated else None
    parts = [(number, worth) for number, worth in zip(match.group(2, 3, 4), (3600, 60, 1)) if number] if match else []
    if not parts or (len(parts) == 1 and match[5]):
        return text
    period = match[5] or unit.partition("/")[2]
    return f"{match[1]}{in_working(sum(worth * read_number(number) for number, worth in parts))} s/{_PERIODS.get(period, period)}"


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
