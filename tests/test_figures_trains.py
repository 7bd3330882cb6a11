"""The drawings of wheel trains say what the counts say, and nothing in them collides that would not collide in a clock."""
from __future__ import annotations

import math
import re
from fractions import Fraction
from xml.etree import ElementTree

import pytest

from build_tools.figures.planting import CLEAR, Stand, apart, modules, planting
from build_tools.figures.svg import LETTER, SIZE, WIDTH
from build_tools.figures.train_elevation import elevation
from build_tools.figures.train_plan import blank, plan
from build_tools.figures.wheelwork import Wheelwork, in_words, wheelwork
from build_tools.library import Library
from build_tools.model import Count

SVG = "{http://www.w3.org/2000/svg}"


def drawn(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1))


@pytest.fixture(scope="module")
def trains(library: Library) -> dict[str, tuple[Count, Wheelwork]]:
    return {entry.id: (entry, wheelwork(entry)) for entry in library.of_kind("count")}


def plan_of(entry: Count, work: Wheelwork) -> ElementTree.Element:
    return drawn(plan(work, entry.id, entry.name, in_words(work), {}))


def teeth_in(svg: ElementTree.Element) -> list[int]:
    """The teeth of all rings and escape wheels that are drawn."""
    rings = [int(ring.get("pathLength")) // 2 for ring in svg.iter(f"{SVG}circle") if ring.get("class") == "teeth"]
    wheels = [len(re.findall(r"[ML]", path.get("d"))) // 3 for path in svg.iter(f"{SVG}path") if path.get("class") == "line escape"]
    legs = [1 for path in svg.iter(f"{SVG}path") if path.get("class") == "thick escape"]
    return sorted(rings + wheels + ([len(legs)] if legs else []))


def test_as_many_teeth_are_drawn_as_the_count_says(trains) -> None:
    for entry, work in trains.values():
        across = planting(work).across
        said = [n for place, axle in enumerate(work.axles) if place not in across for n in (axle.driven, axle.wheel, axle.escape) if n]
        assert teeth_in(plan_of(entry, work)) == sorted(said), entry.id


def test_what_lies_across_has_its_teeth_on_edge(trains) -> None:
    """Seen from the edge half of the teeth are hidden; the drawing carries the whole number, from which the page turns them."""
    seen = 0
    for entry, work in trains.values():
        edges = [edge for edge in plan_of(entry, work).iter(f"{SVG}path") if edge.get("class") == "thin edge"]
        said = [n for place in planting(work).across for n in (work.axles[place].driven, work.axles[place].escape) if n]
        assert sorted(int(edge.get("data-teeth")) for edge in edges) == sorted(said), entry.id
        assert all(abs(edge.get("d").count("M") - int(edge.get("data-teeth")) / 2) <= 1 for edge in edges), entry.id
        seen += len(edges)
    assert seen >= 10


def test_as_many_lifting_pins_are_drawn_as_the_count_says(trains) -> None:
    for entry, work in trains.values():
        pins = [pin for pin in plan_of(entry, work).iter(f"{SVG}circle") if pin.get("class") == "pin"]
        assert len(pins) == sum(axle.pins for axle in work.axles), entry.id


def test_pitch_circles_touch_where_they_mesh(trains) -> None:
    for entry, work in trains.values():
        stands, found = planting(work).stands, modules(work)
        for place, stand in stands.items():
            if (by := work.axles[place].by) is not None:
                distance = math.hypot(stand.x - stands[by].x, stand.y - stands[by].y)
                assert distance == pytest.approx((work.axles[by].wheel + work.axles[place].driven) * found[by] / 2), entry.id


def collisions(stands: dict[int, Stand], together: set[int]) -> list[tuple[int, int]]:
    """Pairs of arbors of which one passes through a wheel of the other, or whose wheels in one plane come closer than they may."""
    pairs = [(i, j) for i in stands for j in stands if i < j and {i, j} != together]
    return [(i, j) for i, j in pairs if not _clear(stands[i], stands[j])]


def _clear(one: Stand, other: Stand) -> bool:
    distance = math.hypot(one.x - other.x, one.y - other.y)
    through = any(disc.radius >= distance for disc in one.discs + other.discs)
    mesh = {disc.mesh for disc in one.discs} & {disc.mesh for disc in other.discs} - {-1}
    near = any(
        a.plane == b.plane and distance < a.radius + b.radius + 2 - 1e-9
        for a in one.discs for b in other.discs if not (a.mesh == b.mesh and a.mesh in mesh)
    )
    return not through and not near


def test_nothing_collides(trains) -> None:
    for entry, work in trains.values():
        assert collisions(planting(work).stands, set(work.concentric or ())) == [], entry.id


def test_a_collision_would_be_noticed(trains) -> None:
    stands = dict(planting(trains["eight-day-96-60-56"][1]).stands)
    great = stands[0]
    stands[2] = Stand(great.x + 20, great.y, stands[2].discs)
    assert (0, 2) in collisions(stands, set())
    assert not apart(great, stands[2])
    assert CLEAR == 2


# Published: Goodrich 1905 and every clock with a seconds hand: escape arbor once a minute, the hour hand once in twelve hours.
def test_rates_and_directions(trains) -> None:
    seconds = trains["eight-day-96-60-56"][1].axles
    assert [axle.rate for axle in seconds] == [Fraction(-1, 12), 1, Fraction(-15, 2), 60]
    hour = trains["motion-12-36-10-40"][1].axles[2]
    assert hour.rate == Fraction(1, 12), "the hour hand turns the same way as the minute hand"


def boxes(svg: ElementTree.Element) -> list[tuple[float, float, float, float, str]]:
    """Left, top, right, bottom of each line of letters."""
    found = []
    for text in svg.iter(f"{SVG}text"):
        size = 12 if "small" in text.get("class", "") else SIZE
        wide = len(text.text) * size * LETTER
        shift = {"middle": wide / 2, "end": wide}.get(text.get("text-anchor"), 0)
        left, base = float(text.get("x")) - shift, float(text.get("y"))
        found.append((left, base - size * 0.75, left + wide, base + size * 0.2, text.text))
    return found


def overlapping(svg: ElementTree.Element) -> list[tuple[str, str]]:
    lines = boxes(svg)
    return [(a[4], b[4]) for n, a in enumerate(lines) for b in lines[:n] if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]]


def test_a_train_to_fill_in_numbers_every_arbor_and_tells_nothing(trains) -> None:
    for entry, work in trains.values():
        svg = drawn(blank(work, entry.id, entry.name))
        assert sorted(text.text for text in svg.iter(f"{SVG}text")) == sorted(str(place + 1) for place in range(len(work.axles))), entry.id
        assert teeth_in(svg) == teeth_in(plan_of(entry, work)) and overlapping(svg) == [], entry.id
        assert len(list(svg.iter(f"{SVG}title"))) == 1, "nor does pointing at a wheel tell what it is"


@pytest.mark.parametrize("view", ["plan", "elevation"])
def test_labels_stand_clear_of_one_another_on_a_phone(trains, view: str) -> None:
    for entry, work in trains.values():
        svg = plan_of(entry, work) if view == "plan" else drawn(elevation(work, entry.of, entry.id, entry.name, in_words(work), {}))
        assert overlapping(svg) == [], entry.id
        outside = [words for left, _, right, _, words in boxes(svg) if left < 0 or right > WIDTH]
        assert outside == [], entry.id


def test_every_train_is_told_in_words(trains) -> None:
    for entry, work in trains.values():
        said = plan_of(entry, work).find(f"{SVG}desc").text
        for axle in work.axles:
            assert axle.name in said.lower() and all(str(n) in said for n in (axle.driven, axle.wheel, axle.escape, axle.pins) if n), entry.id


WIDEST = 0.6  # of the size: a letter of DejaVu Sans, the widest face that a phone or desk is likely to put in


def test_names_beside_an_elevation_end_within_it_in_a_wide_face_too(trains) -> None:
    for entry, work in trains.values():
        svg = drawn(elevation(work, entry.of, entry.id, entry.name, "", {}))
        names = [name for name in svg.iter(f"{SVG}text") if "name" in name.get("class", "")]
        assert len(names) == len(work.axles)
        assert max(float(name.get("x")) + len(name.text) * SIZE * WIDEST for name in names) <= WIDTH, entry.id
