"""Functions of the formulas that take more than a line: means, lists of readings, dates, and the shape of a wheel tooth.

`docs/js/sums-special.js` is the twin of this module; both run the same vectors in the tests.
"""
from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from itertools import count
from operator import mul

from build_tools.number import Number, NumberError, as_float, bounded, settled

HALVINGS = 60
"""Enough to come as near to a tooth's point as a float can."""
LONGEST_MEAN = 60
LEAST_DRIVER = 6
FEWEST_TRIED = 4
"""Leaves with which the search begins; a rack drives no fewer than ten after the line of centres alone."""
FROM_YEAR_ONE_TO_JULIAN = 1721425
"""Julian day number at noon of the day before 1 January of the year 1, Gregorian."""
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def agm(first: Number, second: Number) -> float:
    """The arithmetic-geometric mean of two positive numbers; raises NumberError for others."""
    a, b = as_float(first), as_float(second)
    if a <= 0 or b <= 0:
        raise NumberError("a mean of two positive numbers is asked for")
    for _ in range(LONGEST_MEAN):
        if abs(a - b) <= 1e-15 * a:
            break
        a, b = (a + b) / 2, math.sqrt(a * b)
    return (a + b) / 2


def epicycloid(teeth: Number, leaves: Number) -> float:
    """Height of the full tooth above the pitch circle, in modules, for a wheel of `teeth` driving a pinion of `leaves`.

    The tooth is half the pitch wide, its flanks epicycloids that roll on the pitch circle with half the pinion's pitch
    diameter, which makes the pinion's flanks radial. Raises NumberError where there is no such tooth.
    """
    wheel, rolling = as_float(teeth) / 2, as_float(leaves) / 4
    if wheel <= 0 or rolling <= 0:
        raise NumberError("a wheel and a pinion have at least one tooth each")
    rolled = _rolled_to_point(wheel, rolling)
    return math.hypot(rolling * math.sin(rolled), wheel + rolling - rolling * math.cos(rolled)) - wheel


def fewest_leaves(teeth: Number) -> Fraction:
    """The fewest leaves of a pinion that a wheel of `teeth` drives after the line of centres alone, with the teeth of `epicycloid`.

    The point of one tooth must still push when the next tooth reaches the line. Raises NumberError below six teeth, which
    drive not even a rack so.
    """
    wheel = as_float(teeth) / 2
    if wheel < LEAST_DRIVER / 2:
        raise NumberError("a wheel of fewer than six teeth drives nothing after the line of centres alone")
    return Fraction(next(leaves for leaves in count(FEWEST_TRIED) if leaves * _rolled_to_point(wheel, leaves / 4) >= 4 * math.pi))


def _rolled_to_point(wheel: float, rolling: float) -> float:
    """How far the rolling circle turns from the foot of the tooth to its point, in radians."""
    half_tooth = math.pi / (4 * wheel)
    least, most = 0.0, math.pi
    for _ in range(HALVINGS):
        middle = (least + most) / 2
        if _swept(middle, wheel, rolling) < half_tooth:
            least = middle
        else:
            most = middle
    return least


def _swept(rolled: float, wheel: float, rolling: float) -> float:
    """Angle at the wheel's centre between the foot of the epicycloid and its point after so much rolling, in radians."""
    return rolling * rolled / wheel - math.atan2(rolling * math.sin(rolled), wheel + rolling - rolling * math.cos(rolled))


def slope(across: Sequence[Number], up: Sequence[Number]) -> Number:
    """The slope of the straight line nearest to the points by least squares; raises NumberError below two points."""
    return bounded(_sums(across, up)[0])


def slope_error(across: Sequence[Number], up: Sequence[Number]) -> float:
    """The standard error of that slope from the scatter of the points; raises NumberError below three points."""
    steepness, spread, residues = _sums(across, up)
    if len(across) < 3:
        raise NumberError("the scatter of fewer than three readings says nothing: take more")
    return math.sqrt(max(0.0, as_float(residues) / (len(across) - 2) / as_float(spread)))


def _sums(across: Sequence[Number], up: Sequence[Number]) -> tuple[Fraction, Fraction, Fraction]:
    """Slope, sum of squares across, and sum of squared residues; exact, in whole numbers of the finest parts, since fractions would be shortened at every addition."""
    size = len(across)
    if size != len(up):
        raise NumberError(f"the lists must be equally long: {size} numbers stand against {len(up)}")
    if size < 2:
        raise NumberError("one reading gives no rate: take at least two")
    (xs, x_parts), (ys, y_parts) = _in_parts(across), _in_parts(up)
    xx, xy, yy = (size * sum(map(mul, one, other)) - sum(one) * sum(other) for one, other in ((xs, xs), (xs, ys), (ys, ys)))
    if xx == 0:
        raise NumberError("all readings stand at one time: leave time between them")
    return Fraction(xy * x_parts, xx * y_parts), Fraction(xx, size * x_parts**2), Fraction(yy * xx - xy**2, xx * size * y_parts**2)


def _in_parts(values: Sequence[Number]) -> tuple[list[int], int]:
    """The values as whole numbers of a part that all of them share, and how many such parts make one."""
    exact = [settled(value) for value in values]
    parts = math.lcm(*(value.denominator for value in exact))
    return [value.numerator * (parts // value.denominator) for value in exact], parts


def nth(values: Sequence[Number], place: Number) -> Number:
    """One value of a list: 1 is the first, -1 the last; raises NumberError where there is none."""
    index = int(settled(place))
    if index == 0 or abs(index) > len(values):
        raise NumberError(f"there is no value number {index} in a list of {len(values)}")
    return values[index - 1 if index > 0 else index]


def day_number(day: str) -> Fraction:
    """The Julian day number at noon of a date such as "2026-11-25"; raises NumberError for anything else."""
    return Fraction(read_date(day).toordinal() + FROM_YEAR_ONE_TO_JULIAN)


def read_date(text: str) -> date:
    """Reads "2026-11-25", the only way of writing a date that is accepted; raises NumberError."""
    try:
        if _DATE.fullmatch(text):
            return date.fromisoformat(text)
    except ValueError:
        pass
    raise NumberError(f"'{text[:40]}' is not a date")
