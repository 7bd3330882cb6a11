"""Finds the input that was left blank: every change of sign over its range, or every whole number.

`docs/js/sums-solve.js` is the twin of this module.
"""
from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from build_tools.formula.evaluate import Value
from build_tools.number import Number, NumberError, as_float, settled

STEPS = 1000
HALVINGS = 100
GOLDEN = (math.sqrt(5) - 1) / 2
CLOSE = 1e-9
"""A root counts as one when the result is this near to the wanted one, relatively."""
MOST_ANSWERS = 20

Gives = Callable[[Value], Number]


@dataclass(frozen=True)
class Candidate:
    """One value of the blank, the result that it gives, and how far that is from the wanted one."""
    value: Value
    gives: Number
    error: Number


@dataclass(frozen=True)
class Solved:
    """The values that fit, best first; where none fits, the nearest. `many`: a whole stretch of values fits. `idle`: the blank makes no difference."""
    fits: tuple[Candidate, ...]
    nearest: tuple[Candidate, ...]
    many: tuple[Number, Number] | None = None
    idle: bool = False

    @property
    def decides(self) -> bool:
        """Whether the wanted result tells values of the blank apart."""
        return not (self.many or self.idle)

    @property
    def best(self) -> Candidate | None:
        """The first that fits, else the nearest."""
        return next(iter(self.fits or self.nearest), None)


def among(values: Iterable[Value], gives: Gives, wanted: Number, allowed: Number) -> Solved:
    """Tries every value: those within `allowed` of the wanted result fit, by error; the others are listed as nearest.

    Where more fit than anybody would read, those that give the wanted result exactly stand for them.
    """
    tried = [candidate for candidate in (_try(value, gives, wanted) for value in values) if candidate]
    tried.sort(key=lambda candidate: settled(abs(candidate.error)))
    fits = tuple(candidate for candidate in tried if settled(abs(candidate.error)) <= settled(allowed))
    if 1 < len(fits) == len(tried):
        return Solved((), (), idle=True)
    exact = tuple(candidate for candidate in fits if not settled(candidate.error))
    if len(fits) > MOST_ANSWERS and 0 < len(exact) <= MOST_ANSWERS:
        fits = exact
    if len(fits) > MOST_ANSWERS and isinstance(fits[0].value, Fraction):
        numbers = [candidate.value for candidate in fits]
        return Solved((), (), (min(numbers), max(numbers)))
    return Solved(fits[:MOST_ANSWERS], tuple(tried[len(fits):][:5]))


def _try(value: Value, gives: Gives, wanted: Number) -> Candidate | None:
    try:
        result = gives(value)
    except NumberError:
        return None
    return None if isinstance(result, str) else Candidate(value, result, _minus(result, wanted))


def _minus(left: Number, right: Number) -> Number:
    if isinstance(left, Fraction) and isinstance(right, Fraction):
        return left - right
    return as_float(left) - as_float(right)


def grid(least: float, most: float) -> list[float]:
    """The points that are tried first: evenly spread, by ratio where the range spans more than a thousandfold."""
    if least > 0 and most / least > 1000:
        growth = math.log(most / least) / STEPS
        return [least * math.exp(growth * step) for step in range(STEPS)] + [most]
    return [least + (most - least) * step / STEPS for step in range(STEPS)] + [most]


def between(least: Number, most: Number, gives: Gives, wanted: Number) -> Solved:
    """Every value from least to most that gives the wanted result: sign changes bisected, near misses refined."""
    target = as_float(wanted)

    def off(value: float) -> float | None:
        try:
            result = gives(value)
        except NumberError:
            return None
        return None if isinstance(result, str) else as_float(result) - target

    scale = CLOSE * max(abs(target), 1e-12)
    points = [(x, off(x)) for x in grid(as_float(least), as_float(most))]
    stretch = _stretch(points, scale)
    if stretch:
        return Solved((), (), stretch, idle=all(miss is None or abs(miss) <= scale for _, miss in points))
    if _level(points, target):
        return Solved((), (), idle=True)
    found = [_polished(x, off) for x, allowed in _roots(points, off) if _size(off(x)) <= max(scale, allowed)]
    fits = _distinct(found)
    flat = next((pair for pair in zip(fits, fits[1:]) if _size(off(sum(pair) / 2)) <= scale), None)
    if flat:  # a step of whole numbers, narrower than the grid
        return Solved((), (), (settled(flat[0]), settled(flat[1])))
    candidates = tuple(Candidate(Fraction(settled(x)), gives(x), off(x)) for x in fits[:MOST_ANSWERS])
    return Solved(candidates, () if fits else _nearest(points, off, gives))


def _stretch(points: list[tuple[float, float | None]], scale: float) -> tuple[Number, Number] | None:
    """The ends of the range of points that fit, when three neighbours or more do."""
    fits = [_size(miss) <= scale for _, miss in points]
    if not any(map(all, zip(fits, fits[1:], fits[2:]))):
        return None
    fitting = [x for (x, _), fit in zip(points, fits) if fit]
    return settled(fitting[0]), settled(fitting[-1])


def _level(points: list[tuple[float, float | None]], target: float) -> bool:
    """Whether every point gives the same; what looks like a nearest value would be chance in the last digit of a float."""
    misses = [miss for _, miss in points if miss is not None]
    return len(misses) == len(points) and max(misses) - min(misses) <= CLOSE * abs(misses[0] + target)


def _size(miss: float | None) -> float:
    return math.inf if miss is None else abs(miss)


def _roots(points: list[tuple[float, float | None]], off: Callable[[float], float | None]) -> list[tuple[float, float]]:
    """Where the result may be the wanted one, and how far off it may be there for want of digits: a pole is much further off."""
    roots = [(x, 0.0) for x, miss in points if miss == 0]
    for (a, at_a), (b, at_b) in zip(points, points[1:]):
        if at_a is not None and at_b is not None and at_a * at_b < 0:
            roots.append((_bisected(a, b, at_a, off), CLOSE * min(abs(at_a), abs(at_b))))
    for (a, at_a), (_, here), (b, at_b) in zip(points, points[1:], points[2:]):
        if None not in (at_a, here, at_b) and abs(at_a) > abs(here) < abs(at_b) and at_a * here > 0 and here * at_b > 0:
            roots.append((_lowest(a, b, off), 0.0))
    return roots


def _bisected(a: float, b: float, at_a: float, off: Callable[[float], float | None]) -> float:
    for _ in range(HALVINGS):
        middle = (a + b) / 2
        miss = off(middle)
        if miss is None or miss == 0 or middle in (a, b):
            return middle
        if miss * at_a > 0:
            a, at_a = middle, miss
        else:
            b = middle
    return (a + b) / 2


def _lowest(a: float, b: float, off: Callable[[float], float | None]) -> float:
    """The point between a and b where the miss is smallest, by golden section."""
    for _ in range(HALVINGS):
        left, right = b - GOLDEN * (b - a), a + GOLDEN * (b - a)
        if _size(off(left)) < _size(off(right)):
            b = right
        else:
            a = left
    return (a + b) / 2


def _polished(x: float, off: Callable[[float], float | None]) -> float:
    """The same root with few figures when that fits at least as well: 39.14 rather than 39.1400000001."""
    short = as_float(settled(x))
    return short if _size(off(short)) <= _size(off(x)) + CLOSE * abs(_size(off(x))) else x


def _distinct(found: list[float]) -> list[float]:
    kept: list[float] = []
    for x in sorted(found):
        if not kept or abs(x - kept[-1]) > CLOSE * max(abs(x), 1e-12):
            kept.append(x)
    return kept


def _nearest(points: list[tuple[float, float | None]], off: Callable[[float], float | None], gives: Gives) -> tuple[Candidate, ...]:
    sound = [(x, miss) for x, miss in points if miss is not None]
    if not sound:
        return ()
    place = min(range(len(sound)), key=lambda index: abs(sound[index][1]))
    a, b = sound[max(place - 1, 0)][0], sound[min(place + 1, len(sound) - 1)][0]
    best = min((_lowest(a, b, off), sound[place][0]), key=lambda x: _size(off(x)))
    return (Candidate(Fraction(settled(best)), gives(best), off(best)),)
