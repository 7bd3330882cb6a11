"""Prints what a calculation gives: so many digits as the entry says, and never more than the figures typed carry."""
from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.formula.evaluate import Value
from build_tools.formula.plain import written
from build_tools.number import Number, NumberError, fixed, magnitude, round_half_away, settled, significant
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.model_parts import Result

FIGURES_OF_A_RESULT = 6
FIGURES_OF_A_SPREAD = 3


@dataclass(frozen=True)
class Printed:
    """A result as it is printed, in its unit and in others.

    Where the digits typed carry less than the entry would print, `unrounded` has what it would, and `spread` how far off
    the result may be, in its unit; otherwise both are "".
    """
    shown: str
    unit: str
    also: tuple[tuple[str, str], ...]
    unrounded: str = ""
    spread: str = ""

    def written(self, units: Units) -> str:
        """The result with its units: "7180 per hour (unrounded 7177 ± 7)"."""
        figures = " = ".join(f"{text} {units.symbol(unit)}".strip() for text, unit in ((self.shown, self.unit), *((text, unit) for unit, text in self.also)))
        return f"{figures} (unrounded {self.unrounded} ± {self.spread})" if self.unrounded else figures


def printed(result: Result, value: Value, own: str, units: Units, spread: Number = 0) -> Printed:
    """Prints a result that is counted in the unit `own` and may be off by `spread` (0: it is exact)."""
    unit = result.unit or own
    also = tuple((other, _in_other_unit(result, value, own, other, units, spread)) for other in result.also)
    converted = units.convert(value, own, unit) if unit != own else value
    unrounded = print_value(converted, result.decimals, result.significant)
    off = _converted_spread(value, spread, own, unit, units)
    shown = _carried(converted, unrounded, off)
    return Printed(shown, unit, also) if shown == unrounded else Printed(shown, unit, also, unrounded, significant(off, 1))


def print_value(value: Value, decimals: int | None, figures: int | None) -> str:
    """A value with so many decimals or figures; words as they are, and an exact whole number without ".00"."""
    if isinstance(value, str):
        return value
    if isinstance(value, Fraction) and value.denominator == 1:
        return str(value.numerator)
    return _rounded(value, decimals, figures)


def print_found(value: Value, spread: Number) -> str:
    """An input that was solved for, with no more digits than the figures typed carry."""
    return _carried(value, written(value), spread)


def _carried(value: Value, text: str, spread: Number) -> str:
    """The printed text, or fewer digits: the last one is worth no less than the whole width of the doubt, though one figure is always left."""
    if isinstance(value, str) or not (spread and settled(value)) or "e" in text:
        return text
    place = min(magnitude(_short(2 * spread)), magnitude(settled(value)))
    return fixed(value, -place) if place > _last_place(text) else text


def _last_place(text: str) -> int:
    """The power of ten of the last figure of a printed number; blank zeros before the point don't count as figures."""
    whole, point, decimals = text.partition(".")
    return -len(decimals) if point else len(whole) - len(whole.rstrip("0"))


def _short(value: Number) -> Fraction:
    """A spread with the few figures that matter, so that both languages see the same."""
    exact = settled(value)
    return round_half_away(exact, FIGURES_OF_A_SPREAD - 1 - magnitude(exact)) if exact else exact


def _rounded(value: Number, decimals: int | None, figures: int | None) -> str:
    return significant(value, figures or FIGURES_OF_A_RESULT) if decimals is None else fixed(value, decimals)


def _in_other_unit(result: Result, value: Number, own: str, unit: str, units: Units, spread: Number) -> str:
    """The result in another unit, to about as many figures as it has in its own."""
    figures = result.significant or max(3, len(_rounded(value, result.decimals, None).replace(".", "").lstrip("-0")))
    converted = units.convert(value, own, unit)
    return _carried(converted, significant(converted, figures), _converted_spread(value, spread, own, unit, units))


def _converted_spread(value: Value, spread: Number, own: str, unit: str, units: Units) -> Number:
    if not spread or own == unit:
        return spread
    try:
        return abs(units.convert(value + spread, own, unit) - units.convert(value, own, unit))
    except NumberError:  # a value that the other unit can't express says nothing of the spread
        return 0
