"""The longer functions of the formulas against SciPy, NumPy and the standard library, and against the page's twin."""
from __future__ import annotations

import math
import random
from datetime import date, timedelta
from fractions import Fraction

import pytest
from scipy.optimize import brentq
from scipy.special import ellipkm1
from scipy.stats import linregress

from build_tools.formula import special
from build_tools.number import NumberError
from tests.javascript import Page


def theirs(scripts: Page, function: str, calls: list[list[object]]) -> list[object]:
    """What the page's twin gives for each list of arguments; texts of numbers are read first."""
    read = "(part) => Array.isArray(part) ? part.map(read) : /^-?[\\d.]+$/.test(part) ? ClockRef.number.read(part) : part"
    return scripts.run(f"(() => {{ const read = {read}; return data.map((call) => attempt(() => plainValue(ClockRef.sums.{function}(...call.map(read))))); }})()", calls)


@pytest.mark.parametrize("degrees", [0.001, 0.5, 1, 2, 5, 10, 30, 60, 90, 120, 170, 179.9])
def test_mean_gives_the_complete_elliptic_integral(degrees: float) -> None:
    half = math.radians(degrees) / 2
    assert math.pi / 2 / special.agm(1.0, math.cos(half)) == pytest.approx(ellipkm1(math.cos(half) ** 2), rel=1e-13)


def test_mean_is_the_same_on_the_page(scripts: Page) -> None:
    chance = random.Random(1)
    calls = [[f"{chance.uniform(1e-6, 9):.9f}", f"{chance.uniform(1e-6, 9):.9f}"] for _ in range(200)]
    for call, found in zip(calls, theirs(scripts, "agm", calls)):
        assert float(found) == pytest.approx(special.agm(*map(Fraction, call)), rel=1e-14)


def _pointed_tooth(teeth: int, leaves: int) -> float:
    """The height by another way: the point where the epicycloid's angle is a quarter of the pitch, found by SciPy."""
    wheel, rolling = teeth / 2, leaves / 4

    def place(rolled: float) -> complex:
        turned = rolling * rolled / wheel
        centre = (wheel + rolling) * complex(math.cos(turned), math.sin(turned))
        return centre - rolling * complex(math.cos(turned + rolled), math.sin(turned + rolled))

    def beyond(rolled: float) -> float:
        point = place(rolled)
        return math.atan2(point.imag, point.real) - math.pi / (2 * teeth)

    return abs(place(brentq(beyond, 1e-6, 3, xtol=1e-14))) - wheel


@pytest.mark.parametrize("teeth,leaves", [(18, 6), (45, 6), (60, 8), (84, 7), (96, 8), (120, 10), (144, 12), (30, 30)])
def test_height_of_a_pointed_tooth(teeth: int, leaves: int) -> None:
    assert special.epicycloid(Fraction(teeth), Fraction(leaves)) == pytest.approx(_pointed_tooth(teeth, leaves), rel=1e-10)


def test_height_is_the_same_on_the_page(scripts: Page) -> None:
    calls = [[str(teeth), str(leaves)] for teeth in (18, 45, 96, 200) for leaves in (6, 7, 8, 10, 16)]
    for call, found in zip(calls, theirs(scripts, "epicycloid", calls)):
        assert float(found) == pytest.approx(special.epicycloid(*map(Fraction, call)), rel=1e-11)


def _still_pushes(teeth: int, leaves: int) -> bool:
    """By another way: one tooth past the line of centres, the place of contact lies not beyond the middle of the tooth."""
    wheel, rolling, rolled = teeth / 2, leaves / 4, 4 * math.pi / leaves
    return math.atan2(rolling * math.sin(rolled), wheel + rolling - rolling * math.cos(rolled)) >= 3 * math.pi / (2 * teeth)


@pytest.mark.parametrize("teeth", [6, 7, 8, 9, 11, 24, 31, 32, 54, 55, 60, 96, 144, 381, 382, 2000])
def test_fewest_leaves_after_the_line_of_centres(teeth: int, scripts: Page) -> None:
    found = special.fewest_leaves(Fraction(teeth))
    assert found == next(leaves for leaves in range(8, 200) if _still_pushes(teeth, leaves))
    assert theirs(scripts, "fewest_leaves", [[str(teeth)]]) == [str(found)]


def test_five_teeth_drive_nothing_after_the_line(scripts: Page) -> None:
    assert not _still_pushes(5, 100_000)
    with pytest.raises(NumberError, match="fewer than six"):
        special.fewest_leaves(Fraction(5))
    assert "fewer than six" in str(theirs(scripts, "fewest_leaves", [["5"]]))


def _readings(seed: int) -> tuple[list[str], list[str]]:
    chance = random.Random(seed)
    count = chance.randint(3, 40)
    days = [f"{day + chance.random():.4f}" for day in range(count)]
    return days, [f"{chance.uniform(-5, 5) + 3 * float(day):.2f}" for day in days]


@pytest.mark.parametrize("seed", range(12))
def test_slope_and_its_error_are_those_of_scipy(seed: int, scripts: Page) -> None:
    days, errors = _readings(seed)
    across, up = [list(map(Fraction, texts)) for texts in (days, errors)]
    expected = linregress(list(map(float, days)), list(map(float, errors)))
    assert float(special.slope(across, up)) == pytest.approx(expected.slope, rel=1e-10)
    assert special.slope_error(across, up) == pytest.approx(expected.stderr, rel=1e-9)
    slope = special.slope(across, up)
    assert theirs(scripts, "slope", [[days, errors]]) == [f"{slope.numerator}/{slope.denominator}"]
    assert float(theirs(scripts, "slope_error", [[days, errors]])[0]) == pytest.approx(special.slope_error(across, up), rel=1e-12)


BAD_LISTS = [(["1"], ["2"]), (["1", "2"], ["2"]), (["1", "1"], ["2", "3"]), (["1", "2"], ["2", "3"])]


@pytest.mark.parametrize("days,errors", BAD_LISTS)
def test_too_few_readings_are_answered_alike(days: list[str], errors: list[str], scripts: Page) -> None:
    with pytest.raises(NumberError) as refusal:
        special.slope_error(list(map(Fraction, days)), list(map(Fraction, errors)))
    assert theirs(scripts, "slope_error", [[days, errors]]) == [{"error": str(refusal.value)}]


def test_values_of_a_list_by_their_place(scripts: Page) -> None:
    values = [Fraction(3), Fraction(5), Fraction(8)]
    assert [special.nth(values, Fraction(place)) for place in (1, 3, -1, -3)] == [3, 8, 8, 3]
    assert theirs(scripts, "nth", [[["3", "5", "8"], place] for place in ("1", "3", "-1", "-3")]) == ["3", "8", "8", "3"]
    for place in (0, 4, -4):
        with pytest.raises(NumberError) as refusal:
            special.nth(values, Fraction(place))
        assert theirs(scripts, "nth", [[["3", "5", "8"], str(place)]]) == [{"error": str(refusal.value)}]


def test_day_numbers(scripts: Page) -> None:
    known = {"2000-01-01": 2451545, "1858-11-17": 2400001, "1582-10-15": 2299161, "1970-01-01": 2440588}
    for text, number in known.items():
        assert special.day_number(text) == number
    days = [(date(1, 1, 1) + timedelta(days=step * 7919)).isoformat() for step in range(460)]
    assert theirs(scripts, "day_number", [[day] for day in days]) == [str(special.day_number(day)) for day in days]


@pytest.mark.parametrize("text", ["2026-02-29", "2026-13-01", "2026-00-10", "2026/11/25", "2026-W48-3", "0000-01-01", "26-1-1", "word"])
def test_what_is_no_date_is_answered_alike(text: str, scripts: Page) -> None:
    with pytest.raises(NumberError) as refusal:
        special.day_number(text)
    assert theirs(scripts, "day_number", [[text]]) == [{"error": str(refusal.value)}]
