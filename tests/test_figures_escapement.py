"""Anchor and deadbeat: one tooth for one swing to and fro, a wheel that stands still or goes back as it should, tips on the faces."""
from __future__ import annotations

import math
from itertools import groupby, pairwise

import pytest

from build_tools.calculate import evaluate, read_all
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
    assert len(found) == figures.FRAMES + 2 * (figures.FALLING - 1)
    after = found[0].wheel + 360 / layout.teeth
    assert abs(after - found[-1].wheel) < 0.1, "the last moment leads on to the first, a tooth further"
    if not layout.recoil:
        assert all(later.wheel >= earlier.wheel - 1e-9 for earlier, later in pairwise(found))


@pytest.mark.parametrize("layout", [DEADBEAT, RECOIL])
def test_every_moment_comes_in_its_order_and_is_told(layout: Layout) -> None:
    order = [moment for moment, _ in groupby(frame.moment for frame in frames(layout))]
    ring = order[:-1] if order[0] == order[-1] else order
    assert sorted(ring) == list(range(6))
    assert all((later - earlier) % 6 == 1 for earlier, later in pairwise(order))
    kinds = [words.split(":")[0] for words in figures.says_of(layout)]
    assert kinds == ["Recoil" if layout.recoil else "Lock", "Impulse", "Drop"] * 2


def test_while_it_drops_the_wheel_falls_by_the_drop_and_the_pallets_stand_still() -> None:
    falling = [frame for frame in frames(DEADBEAT) if frame.moment == 2]
    landed = next(frame.wheel for frame in frames(DEADBEAT) if frame.moment == 3)
    assert len({frame.pallets for frame in falling}) == 1
    assert landed - DEADBEAT.drop < falling[0].wheel < falling[-1].wheel < landed


# The calculation's own figures are tried against print in its entry.
def test_the_drawing_is_laid_out_as_the_calculation_says(library: Library) -> None:
    entry = library["calculation:pallets"]
    for layout in LAYOUTS:
        given = {"teeth": str(layout.teeth), "spanned": str(layout.span), "radius": str(layout.radius), "lift": str(2 * layout.lift)}
        values = evaluate(entry, read_all(entry, given, library), library).values
        assert distance(layout.wheel, layout.arbor) == pytest.approx(float(values["distance"]))
        assert distance(layout.arbor, layout.tip(layout.half)) == pytest.approx(float(values["arm"]))


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
