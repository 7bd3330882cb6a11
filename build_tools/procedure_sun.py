"""The equation of time through a year, day by day."""
from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from build_tools.formula.evaluate import Train, Value
from build_tools.formula.special import day_number
from build_tools.number import as_float

TURN, SECONDS_A_DEGREE, NOON = 360.0, 240.0, 43200


def equation_year(values: Mapping[str, Value], trains: tuple[tuple[Train, int], ...]) -> dict[str, Any]:
    """The sun ahead of the clock at noon of every so many days from 1 January on, the days on which it is most, least and nothing."""
    year, every = int(values["year"]), int(values["every"])
    days = [date(year, 1, 1) + timedelta(days=step) for step in range((date(year, 12, 31) - date(year, 1, 1)).days + 1)]
    found = [(day.isoformat(), _equation(day, values)) for day in days]
    ahead, behind = max(found, key=lambda each: each[1]), min(found, key=lambda each: each[1])
    return {
        "ahead": f"{ahead[0]}, {_spoken(ahead[1])}", "behind": f"{behind[0]}, {_spoken(behind[1])}", "nothing": ", ".join(_nothing(found)),
        "answers": tuple((day, seconds, _spoken(seconds), _clock(seconds)) for day, seconds in found[::every]),
    }


def _equation(day: date, values: Mapping[str, Value]) -> float:
    """Sun less clock in seconds at noon of the day, by the same series as for a single date."""
    since = day_number(day.isoformat()) - Fraction(values["J_0"])
    longitude, anomaly = (as_float(Fraction(values[start]) + Fraction(values[daily]) * since) for start, daily in (("l_0", "l_1"), ("m_0", "m_1")))
    first, second, tilt = (as_float(values[name]) for name in ("c_1", "c_2", "tilt"))
    seen = math.radians(longitude + first * math.sin(math.radians(anomaly)) + second * math.sin(math.radians(2 * anomaly)))
    ascension = math.degrees(math.atan2(math.cos(math.radians(tilt)) * math.sin(seen), math.cos(seen)))
    return ((longitude - ascension + TURN / 2) % TURN - TURN / 2) * SECONDS_A_DEGREE


def _nothing(found: list[tuple[str, float]]) -> Iterator[str]:
    """The days on which sun and clock agree most nearly: one of each pair between which the sign changes."""
    for (day, seconds), (following, then) in zip(found, found[1:]):
        if seconds * then <= 0:
            yield day if abs(seconds) <= abs(then) else following


def _spoken(seconds: float) -> str:
    """"16 min 27 s ahead"."""
    size = math.floor(abs(seconds) + 0.5)
    return f"{size // 60} min {size % 60} s {'behind' if seconds < 0 and size else 'ahead'}"


def _clock(seconds: float) -> str:
    """What a clock of mean time shows when the sun is due south."""
    shown = NOON - math.floor(abs(seconds) + 0.5) * (-1 if seconds < 0 else 1)
    return f"{shown // 3600}:{shown // 60 % 60:02}:{shown % 60:02}"
