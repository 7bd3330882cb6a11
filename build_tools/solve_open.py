"""The input that is open: a blank number or choice, or a "?" in a train, a list or a date; which values it may take, and what fits.

`docs/js/sums-solve.js` holds the twin of this module.
"""
from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

from build_tools.formula.evaluate import Mesh, Value
from build_tools.given import MOST_TEETH, UNKNOWN, Figure, GivenError, accepted, read_given, read_lost_train
from build_tools.number import Number, NumberError, read_number, settled
from build_tools.solve import Gives, Solved, among, between
from build_tools.typed import list_pieces
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.model_parts import Input

USUAL_TEETH = 400
"""Counts up to this are tried first; the many beyond, of astronomical work, only where none of these fits."""
LONGEST_RANGE = 20000
WIDER = 10
"""A lost number of a list is looked for this many spreads of the others beyond them."""
WITH_SIGN = ("train", "list", "date")
"""Types in which a "?" stands for what is open."""
_DATE = re.compile(r"(\d{4})-(\?+|\d{1,2})-(\?+|\d{1,2})", re.ASCII)
_WRITE = {
    "train": "a whole train can't be solved for; write it with ? for the one count that is lost, such as 84/7 ?/7",
    "list": "a whole list can't be solved for; write it with ? for the one number that is lost, such as 0 4.2 ? 12.4",
    "date": "no date can be found without its year; write ? for the month or the day, such as 2026-?-?",
}


@dataclass(frozen=True)
class OpenField:
    """The input that is open, as it was typed."""
    field: Input
    text: str
    units: Units

    def search(self, gives: Gives, aim: Figure) -> Solved:
        """What fits; a candidate's value is what stands in the place of the "?". Raises GivenError where the input can't be solved for."""
        field = self.field
        if field.type in WITH_SIGN and UNKNOWN not in self.text:
            raise GivenError(field.name, _WRITE[field.type])
        match field.type:
            case "train":
                usual = among(self._trains(USUAL_TEETH), gives, aim.value, aim.allowed)
                return usual if usual.fits or usual.idle else among(self._trains(MOST_TEETH), gives, aim.value, aim.allowed)
            case "date":
                return among(self._days(), gives, aim.value, aim.allowed)
            case "whole":
                return among(_whole_numbers(field), gives, aim.value, aim.allowed)
            case "choice":
                return among([choice.value for choice in field.choices], gives, aim.value, aim.allowed)
            case "list":
                return between(*self._limits(), lambda value: gives(self.whole(value)), aim.value)
            case "number":
                return between(read_number(field.minimum), read_number(field.maximum), gives, aim.value)
        raise GivenError(field.name, f"{field.label} can't be solved for; accepted: {accepted(field, self.units)}")

    def whole(self, value: Value) -> Value:
        """The value of the whole input when this stands in the place of the "?"."""
        if self.field.type != "list":
            return value
        place = self._pieces.index(UNKNOWN)
        return (*self._others[:place], value, *self._others[place:])

    def _trains(self, most: int) -> list[Value]:
        """The train with every count up to the most in the place of the "?"; a driver may have a single tooth, a pinion may not."""
        if self.text.count(UNKNOWN) > 1:
            raise GivenError(self.field.name, "only one count can be solved for; write ? once")
        least = 2 if re.search(r"[/:]\s*\?", self.text) else 1
        try:
            train = read_lost_train(self.text)
        except NumberError as error:
            raise GivenError(self.field.name, str(error)) from None
        return [tuple(Mesh(mesh.driver or teeth, mesh.driven or teeth) for mesh in train) for teeth in range(least, most + 1)]

    def _days(self) -> list[Value]:
        """Every day of the year that the date leaves open."""
        match = _DATE.fullmatch(self.text.strip())
        if not match or match[1] == "0000":
            raise GivenError(self.field.name, _WRITE["date"])
        year, month, day = match.groups()
        days = (date(int(year), 1, 1) + timedelta(days=each) for each in range(366 if calendar.isleap(int(year)) else 365))
        found: list[Value] = [each.isoformat() for each in days if _may_be(month, each.month) and _may_be(day, each.day)]
        if not found:
            raise GivenError(self.field.name, f"'{self.text.strip()[:40]}' leaves no day open")
        return found

    @cached_property
    def _pieces(self) -> list[str]:
        """The numbers of the list and the one "?", each as it was typed or in the unit of the input."""
        try:
            pieces = list_pieces(self.field, self.text.strip(), self.units)
        except NumberError as error:
            raise GivenError(self.field.name, f"{error}; accepted: {accepted(self.field, self.units)}") from None
        if pieces.count(UNKNOWN) != 1:
            raise GivenError(self.field.name, "only one number can be solved for; write ? once, by itself")
        return pieces

    @cached_property
    def _others(self) -> tuple[Number, ...]:
        rest = [piece for piece in self._pieces if piece != UNKNOWN]
        if not rest:
            raise GivenError(self.field.name, _WRITE["list"])
        return read_given(self.field, " ".join(rest), self.units)

    def _limits(self) -> tuple[Number, Number]:
        """From well below the other numbers of the list to well above them, within the limits of the input."""
        others = [settled(each) for each in self._others]
        least, most = read_number(self.field.minimum), read_number(self.field.maximum)
        reach = WIDER * (max(others) - min(others)) or most - least
        return max(least, min(others) - reach), min(most, max(others) + reach)


def _may_be(written: str, number: int) -> bool:
    return UNKNOWN in written or int(written) == number


def _whole_numbers(field: Input) -> list[Value]:
    least, most = int(read_number(field.minimum)), int(read_number(field.maximum))
    return [Fraction(number) for number in range(least, min(most, least + LONGEST_RANGE) + 1)]
