"""How far the figures that were typed carry: half a unit of the last digit of each measured input, followed through the steps.

What was counted or chosen is exact, and so is a default that nobody touched; `measured` in the entry says which inputs are
read off a rule, a scale or a watch. A figure without a decimal point, "3 in" or "250 mm", is taken as good to three figures
at least, as books and people mean it. Several doubts add up like independent ones, by their squares.
`docs/js/sums-carried.js` is the twin of this module.
"""
from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.calculate import work_steps
from build_tools.formula.evaluate import Value
from build_tools.given import read_figure
from build_tools.number import Number, NumberError, as_float, last_digit, magnitude, read_number, settled
from build_tools.typed import UNKNOWN, figure_text, list_pieces
from build_tools.units import Units, last_piece

if TYPE_CHECKING:
    from build_tools.model import Calculation
    from build_tools.model_parts import Input

FIGURES_OF_A_WHOLE_NUMBER = 3
SMALL = 1e-6
"""The share of a value, or of its range, by which it is moved to see how fast a result follows it."""

Halves = Mapping[str, Number | tuple[Number, ...]]
Values = Mapping[str, Value]


def halves(calculation: Calculation, typed: Mapping[str, str], inputs: Values, units: Units) -> dict[str, Number | tuple[Number, ...]]:
    """The doubt of every measured input that was typed, in the input's unit; a tuple for a list."""
    found: dict[str, Number | tuple[Number, ...]] = {}
    for field in calculation.inputs:
        text = typed.get(field.name, "").strip()
        if field.measured and text and field.name in inputs and not _exact(field, inputs[field.name], units):
            found[field.name] = _halves(field, text, units) if field.type == "list" else half(figure_text(field, text, units)[0], field.unit, units)
    return found


def _exact(field: Input, value: Value, units: Units) -> bool:
    """Nothing (no hole, no line, no height) is exact, and so is the default."""
    return value == 0 or (field.default != "" and field.type == "number" and value == read_figure(field.default, field.unit, units).value)


def _halves(field: Input, text: str, units: Units) -> tuple[Number, ...]:
    return tuple(last_digit(piece) / 2 if piece != UNKNOWN and read_number(piece) else 0 for piece in list_pieces(field, text, units))


def half(text: str, unit: str, units: Units) -> Number:
    """Half a unit of the last digit of a typed figure, in `unit`; half of its third figure where it has no decimals and so no finer last digit."""
    figure = read_figure(text, unit, units)
    if not figure.value or _has_decimals(last_digit(last_piece(text, unit)[0])):
        return figure.allowed
    return min(figure.allowed, Fraction(10) ** (magnitude(settled(figure.value)) - FIGURES_OF_A_WHOLE_NUMBER + 1) / 2)


def _has_decimals(last: Fraction) -> bool:
    """Whether the last digit is a tenth, a hundredth …, not a one or the eighth of "39 1/8"."""
    return last < 1 and str(last.denominator).rstrip("0") == "1"


def spreads(calculation: Calculation, inputs: Values, halved: Halves) -> dict[str, Number]:
    """How far each step's value may be off for the last digits of the inputs; steps that give words or whole numbers throughout are left out."""
    if not halved:
        return {}
    base = work_steps(calculation, inputs)
    squares = {step.name: 0.0 for step in calculation.steps if not isinstance(base[step.name], str)}
    whole = {name for name in squares if _is_whole(base[name])}
    for moved in _moved(inputs, halved):
        ways = [values for each in moved if (values := _worked(calculation, each))]
        for name in squares:
            squares[name] += max((_distance(values[name], base[name]) for values in ways), default=0.0) ** 2
        whole = {name for name in whole if all(_is_whole(values[name]) for values in ways)}
    return {name: math.sqrt(square) for name, square in squares.items() if square and name not in whole}


def found_spread(calculation: Calculation, inputs: Values, blank: Input, wanted: Mapping[str, Number], halved: Halves) -> Number:
    """How far the value that was solved for may be off: what the results typed (with their doubts, by name) and the other inputs leave open, over the slope.

    0 where nothing tells.
    """
    step = abs(as_float(inputs[blank.name])) * SMALL or as_float(read_number(blank.maximum) - read_number(blank.minimum)) * SMALL
    ends = [_worked(calculation, {**inputs, blank.name: as_float(inputs[blank.name]) + move}) for move in (-step, step)]
    if not all(ends):
        return 0
    others = spreads(calculation, inputs, halved)
    for name, doubt in wanted.items():
        slope = _distance(ends[1][name], ends[0][name]) / (2 * step)
        if slope:
            return math.hypot(as_float(doubt), as_float(others.get(name, 0))) / slope
    return 0


def _moved(inputs: Values, halved: Halves) -> Iterator[list[Values]]:
    """The inputs with one number moved by its half up, down, and a seventh of that, where no result is whole by chance."""
    for name, doubt in halved.items():
        value = inputs[name]
        if isinstance(doubt, tuple):
            for place, each in enumerate(doubt):
                yield [{**inputs, name: (*value[:place], value[place] + move, *value[place + 1:])} for move in _ways(each)]
        else:
            yield [{**inputs, name: value + move} for move in _ways(doubt)]


def _ways(doubt: Number) -> tuple[Number, Number, Number]:
    return doubt, -doubt, doubt / 7


def _worked(calculation: Calculation, inputs: Values) -> Values:
    try:
        return work_steps(calculation, inputs)
    except NumberError:  # a clock that can't be, a hair beyond one that can
        return {}


def _is_whole(value: Value) -> bool:
    return isinstance(value, Fraction) and value.denominator == 1


def _distance(value: Value, base: Value) -> float:
    if isinstance(value, str) or isinstance(base, str):
        return 0.0
    if isinstance(value, Fraction) and isinstance(base, Fraction):
        return as_float(abs(value - base))
    return abs(as_float(value) - as_float(base))
