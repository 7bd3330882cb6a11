"""Curves: axes with round figures, the calculation's own values, and the published equation of time."""
from __future__ import annotations

import re
from html import unescape

import pytest

from build_tools.figures.curve import Axis, Line, curve, marks
from build_tools.library import Library
from build_tools.render.curves import curve_of, moon_error, readings, rods
from build_tools.render.view import View
from tests.test_figures_trains import SVG, boxes, drawn, overlapping


@pytest.mark.parametrize(("least", "most", "wanted"), [
    (0, 10, ["0", "2", "4", "6", "8", "10"]),
    (-0.3, 0.4, ["−0.2", "0.0", "0.2", "0.4"]),
    (3000, 14400, ["5,000", "7,500", "10,000", "12,500"]),
    (0, 1, ["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]),
])
def test_axes_bear_round_figures(least: float, most: float, wanted: list[str]) -> None:
    assert [words for _, words in marks(least, most)] == wanted


def svg_in(html: str):
    return drawn(re.search(r"<svg.*?</svg>", html).group())


def all_curves(library: Library) -> dict[str, str]:
    view = View(library, "calculations/x.md")
    made = {entry.id: curve_of(entry, view) for entry in library.of_kind("calculation") if entry.plot}
    return {**made, "moon": moon_error(view), "rods": rods(view), "readings": readings(view)}


def test_labels_stand_clear_of_one_another_on_a_phone(library: Library) -> None:
    for name, html in all_curves(library).items():
        svg = svg_in(html)
        assert overlapping(svg) == [], name
        assert all(left >= 0 and right <= 328 for left, _, right, _, _ in boxes(svg)), name


def test_every_curve_has_its_table(library: Library) -> None:
    for name, html in all_curves(library).items():
        assert html.count("<tr>") >= 4, name


def table(html: str) -> dict[str, float]:
    rows = re.findall(r"<tr><td>(.*?)</td><td>(.*?)</td></tr>", html)
    return {unescape(place): float(unescape(value).replace("−", "-").replace(",", "").replace("\u202f", "")) for place, value in rows}


# A seconds pendulum at 9.81 m/s2 is 994 mm; its length goes as the inverse square of the beats (Goodrich 1905, ch. X).
def test_the_pendulum_curve_goes_through_the_seconds_pendulum(library: Library) -> None:
    found = table(all_curves(library)["pendulum-from-beats"])
    for beats, length in found.items():
        assert float(length) == pytest.approx(994.0 * (3600 / float(beats)) ** 2, rel=2e-3)


# The common moon of 29 1/2 days gains 44 minutes a lunation (Beckett 1903, pp. 139-140): 12.37 lunations a year.
def test_the_common_moon_is_a_day_out_in_less_than_three_years(library: Library) -> None:
    html = all_curves(library)["moon"]
    a_year = float(re.search(r"<tr><td>[^<]*</td><td>([\d.]+)</td>", html).group(1))
    assert a_year == pytest.approx(44.05 * 12.368 / 1440, rel=5e-3)


# Beckett 1903, p. 53 and after: a brass rod loses about half as much again as one of steel, a second a day for some 2 degrees of Celsius with steel.
def test_rods_lose_with_warmth_in_the_order_of_their_expansion(library: Library) -> None:
    rows = re.findall(r"<tr><td>([^<]*)</td><td>[^<]*</td><td>([^<]*)</td>", all_curves(library)["rods"])
    at_ten = {name: float(value.replace("−", "-")) for name, value in rows}
    assert at_ten["steel rod"] == pytest.approx(-5, abs=0.2)
    assert at_ten["brass"] < at_ten["steel rod"] < at_ten["fused silica"] < 0


def test_a_line_is_drawn_where_its_values_are() -> None:
    svg = drawn(curve("c", "t", "s", Axis("x"), Axis("y"), [Line(((0.0, 0.0), (10.0, 100.0)))]))
    line = next(path for path in svg.iter(f"{SVG}path") if path.get("class") == "line accent").get("d")
    start, end = (tuple(map(float, point.split())) for point in re.findall(r"[ML]([\d. ]+)", line))
    assert start[0] < end[0] and start[1] > end[1]
