"""The scale of degrees as it comes out of a printer: a CSS millimetre is a millimetre on paper."""
from __future__ import annotations

import math

import pytest

from tests.browser.conftest import Visit

pytestmark = pytest.mark.browser
PIXELS_A_MM = 96 / 25.4
LINES = "lines => lines.map(line => { const box = line.getBoundingClientRect(); return [box.left, box.width, box.height]; })"


def test_the_marks_stand_where_the_tangent_has_them(desk: Visit) -> None:
    page = desk.open("calculations/arc-scale/#distance=1000&every=1&most=4")
    drawn = page.locator(".to-size line").evaluate_all(LINES)
    upright = sorted(left for left, width, height in drawn if width < 1 < height)
    middle = upright[len(upright) // 2]
    places = [1000 * math.tan(math.radians(angle)) for angle in range(1, 5)] + [50]  # the ends of the trial line are 50 mm off
    expected = sorted(middle + side * place * PIXELS_A_MM for place in places for side in (-1, 1))
    assert [left for left in upright if left != middle] == pytest.approx(expected, abs=0.6)
    assert any(width == pytest.approx(100 * PIXELS_A_MM, abs=0.5) for _, width, _ in drawn)


def test_what_the_sheet_can_not_hold_is_left_out_and_said(desk: Visit) -> None:
    page = desk.open("calculations/arc-scale/#distance=2000&every=1&most=6")
    assert page.locator(".to-size svg").evaluate("svg => svg.getBoundingClientRect().width") <= 180 * PIXELS_A_MM
    assert "4 marks to a side are left out" in page.locator(".to-size").inner_text()
