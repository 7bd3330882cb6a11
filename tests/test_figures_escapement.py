"""Anchor and deadbeat: one tooth for one swing to and fro, a wheel that stands still or goes back as it should, tips on the faces."""
from __future__ import annotations

import math
from itertools import pairwise

import pytest

from build_tools.figures import escapement as figures
from build_tools.figures.escapement import Layout, frames, on_face, turned
from build_tools.library import Library
from build_tools.render.pictures import DEADBEAT, RECOIL
from tests.test_figures_trains import SVG, boxes, drawn, overlapping

LAYOUTS = [DEADBEAT, RECOIL, Layout(span=6.5), Layout(span=9.5, lift=2.0, lock=0.5, swing=3.0)]


def distance(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_tangents_to_the_wheel_meet_in_the_pallet_arbor(layout: Layout) -> None:
    for side in (-1, 1):
        touch = layout.tip(side * layout.half)
        to_wheel = (touch[0] - layout.wheel[0], touch[1] - layout.wheel[1])
        to_arbor = (layout.arbor[0] - touch[0], layout.arbor[1] - touch[1])
        assert to_wheel[0] * to_arbor[0] + to_wheel[1] * to_arbor[1] == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_tip_on_a_face_lies_on_the_line_between_its_corners(layout: Layout) -> None:
    for entry in (True, False):
        a, b = (turned(corner, layout.arbor, 0.5) for corner in layout.corners(entry))
        tip = layout.tip(on_face(layout, entry, 0.5))
        assert distance(a, tip) + distance(tip, b) == pytest.approx(distance(a, b), abs=1e-6)


def test_the_deadbeat_holds_the_wheel_dead_still() -> None:
    held = [frame.wheel for frame in frames(DEADBEAT) if frame.moment == 3]
    assert held and max(held) - min(held) < 1e-9


def test_the_recoil_anchor_pushes_the_wheel_back() -> None:
    held = [frame.wheel for frame in frames(RECOIL) if frame.moment == 3]
    assert held[0] - min(held) > 0.5


@pytest.mark.parametrize("layout", [DEADBEAT, RECOIL])
def test_one_swing_to_and_fro_lets_one_tooth_pass(layout: Layout) -> None:
    found = frames(layout)
    assert len(found) == figures.FRAMES
    after = found[0].wheel + 360 / layout.teeth
    assert abs(after - found[-1].wheel) < 0.1, "the last moment leads on to the first, a tooth further"
    if not layout.recoil:
        assert all(later.wheel >= earlier.wheel - 1e-9 for earlier, later in pairwise(found))


def test_a_tooth_leaves_one_pallet_before_the_next_lands_on_the_other() -> None:
    end_of_entry, start_of_exit = DEADBEAT.face, 180 / DEADBEAT.teeth
    assert start_of_exit - end_of_entry == pytest.approx(DEADBEAT.drop)


@pytest.mark.parametrize("layout", [DEADBEAT, RECOIL])
def test_the_wheel_has_its_teeth_and_the_names_stand_clear(library: Library, layout: Layout) -> None:
    words = {entry.word: f"../{entry.id}/" for entry in library.of_kind("term")}
    svg = drawn(figures.escapement(layout, "e", "Escapement", "says", words))
    wheel = next(part for part in svg.iter(f"{SVG}g") if part.get("class") == "wheel")
    assert wheel.find(f"{SVG}path").get("d").count("L") + 1 == 3 * layout.teeth
    assert overlapping(svg) == [] and all(left >= 0 and right <= 328 for left, _, right, _, _ in boxes(svg))
    assert len([link for link in svg.iter(f"{SVG}a")]) == 6, "every name is a word of the library"
