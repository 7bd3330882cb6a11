"""A scale of degrees to put behind a pendulum."""
from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from build_tools.formula.evaluate import Train, Value
from build_tools.number import NumberError, as_float, settled

MOST_MARKS = 90


def arc_scale(values: Mapping[str, Value], trains: tuple[tuple[Train, int], ...]) -> dict[str, Any]:
    """Where the marks stand from the middle, in mm, on a straight scale and along one that is bent round the place where the spring bends."""
    distance, every, most = as_float(values["distance"]), settled(values["every"]), settled(values["most"])
    number = int(most / every)
    if number < 1:
        raise NumberError("the last mark must not come before the first")
    if number > MOST_MARKS:
        raise NumberError(f"{number} marks to a side are too many: {MOST_MARKS} are the most")
    rows = tuple((mark * every, *_places(distance, mark * every)) for mark in range(1, number + 1))
    return {"half": rows[-1][1], "width": 2 * rows[-1][1], "degree": distance * math.tan(math.radians(1)), "answers": rows}


def _places(distance: float, degrees: Fraction) -> tuple[float, float]:
    angle = math.radians(as_float(degrees))
    return distance * math.tan(angle), distance * angle
