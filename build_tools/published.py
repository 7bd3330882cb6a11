"""Sets what a source prints beside what our calculations give, and judges whether they agree."""
from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.answer import Answer, answer
from build_tools.calculate import resolved, unit_of, units_of
from build_tools.counts import from_count
from build_tools.formula.evaluate import Value
from build_tools.formula.plain import written
from build_tools.given import Figure as Read
from build_tools.given import GivenError, read_figure, read_given
from build_tools.number import Number, fixed, in_working, settled
from build_tools.units import Units, split_quantity

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation, Count
    from build_tools.model_parts import Figure, Given

MISPRINT, CUT_OFF = "misprint", "cut off"


@dataclass(frozen=True)
class Judgement:
    """One printed figure: what we get, whether that agrees, and whether the entry says so rightly.

    `sound` is False when a figure should agree and doesn't, or is called a misprint and agrees after all.
    """
    name: str
    printed: str
    ours: str
    unit: str
    agrees: bool
    sound: bool
    verdict: str
    because: str


def judge(calculation: Calculation, given: Mapping[str, str], expect: Mapping[str, Figure], library: Library) -> Iterator[Judgement]:
    """Judges every printed figure of one example; raises GivenError, NoAnswer or NumberError when it can't be worked."""
    calculation = resolved(calculation, library)
    answered = answer(calculation, given, library)
    for name, figure in expect.items():
        yield _judge_one(calculation, answered, name, figure, library)


def judge_count(count: Count, given: Given, library: Library) -> Judgement:
    """Judges a figure that a count must give, from its wheels and whatever else its source reckoned from."""
    calculation = library[given.calculation]
    filled = {name: written(value) for name, value in from_count(calculation, count, library, given.with_).items()}
    return next(judge(calculation, {**filled, **given.with_}, {given.result: given}, library))


def _judge_one(calculation: Calculation, answered: Answer, name: str, figure: Figure, library: Library) -> Judgement:
    units = units_of(library)
    value = answered.inputs.get(name, answered.outcome.values.get(name))
    if value is None:
        raise GivenError(name, f"{calculation.id} has no result of this name")
    unit = unit_of(calculation, name)
    field = next((each for each in calculation.inputs if each.name == name), None)
    if isinstance(value, str | tuple):
        agrees = value == (read_given(field, figure.value, units) if field else figure.value)
        return Judgement(name, figure.printed, written(value), "", agrees, agrees, figure.verdict, figure.because)
    read = read_figure(figure.value, unit, units, figure.tolerance)
    agrees = read.agrees(value)
    shown, symbol = _ours(figure, value, unit, units)
    return Judgement(name, figure.printed, shown, symbol, agrees, _sound(figure, read, value, agrees), figure.verdict, figure.because)


def _sound(figure: Figure, read: Read, value: Value, agrees: bool) -> bool:
    if figure.verdict == CUT_OFF:
        return _cut_off(figure, read, value)
    if figure.verdict and not figure.tolerance:
        return not agrees
    return agrees


def _cut_off(figure: Figure, read: Read, value: Value) -> bool:
    """Whether the printed figure is ours with the further digits dropped, which rounding would have changed."""
    whole_digit = 2 * settled(read.allowed)
    beyond = abs(settled(value)) - abs(settled(read.value))
    return Fraction(0) < beyond < whole_digit and not read.agrees(value)


def _ours(figure: Figure, value: Number, unit: str, units: Units) -> tuple[str, str]:
    """Our value in the unit of the print and to one digit more, and that unit's symbol."""
    pieces = split_quantity(figure.value)
    number, spelling = pieces[0]
    if len(pieces) > 1 or not number.replace(".", "", 1).lstrip("-").isdigit():
        return in_working(value), units.symbol(unit)
    shown = units.find(spelling, unit).name if spelling else unit
    digits = len(number.partition(".")[2]) + 1
    converted = units.convert(value, unit, shown)
    exact = isinstance(converted, Fraction) and (converted * 10**digits).denominator == 1
    return in_working(converted) if exact else fixed(converted, digits), units.symbol(shown)
