"""On the plates of works, pieces that lean on one another do touch, as far as the width of a line, and what is lifted is clear."""
from __future__ import annotations

import math
import re
from collections.abc import Iterator

import pytest

from build_tools.figures.shapes import shape
from build_tools.figures.svg import Point, polar
from build_tools.library import Library
from build_tools.model import Plate

HALF_A_LINE = {"thick": 1.12, "thin": 0.35, "broken": 0.35, "dot": 0.0}  # px; docs/css/figures.css
TOUCHING = 0.9  # px of light or of overlap that no eye sees


def outlines(words: str) -> Iterator[list[Point]]:
    """The edges of a shape as lines from point to point."""
    svg = shape(words)
    for x, y, radius in re.findall(r'<circle[^>]*cx="([-\d.]+)" cy="([-\d.]+)" r="([-\d.]+)"', svg):
        yield [polar((float(x), float(y)), float(radius), angle) for angle in range(0, 365, 5)]
    for steps in re.findall(r'<path[^>]* d="([^"]+)"', svg):
        yield _points(steps)


def _points(steps: str) -> list[Point]:
    """The points of a path; of a short arc only its end, which is near enough here."""
    found: list[Point] = []
    for name, numbers in re.findall(r"([MLQA])([^MLQAZ]*)", steps):
        values = [float(value) for value in numbers.split()]
        if name == "Q":
            (x0, y0), (x1, y1, x2, y2) = found[-1], values
            found += [(_bent(x0, x1, x2, part / 12), _bent(y0, y1, y2, part / 12)) for part in range(1, 13)]
        else:
            found.append((values[-2], values[-1]))
    return [*found, found[0]] if steps.endswith("Z") else found


def _bent(start: float, towards: float, end: float, part: float) -> float:
    return start * (1 - part) ** 2 + 2 * towards * part * (1 - part) + end * part**2


def _from_line(point: Point, start: Point, end: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    along = max(0.0, min(1.0, ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy or 1.0)))
    return math.dist(point, (start[0] + along * dx, start[1] + along * dy))


def _half(words: str) -> float:
    return next((half for name, half in HALF_A_LINE.items() if words.startswith(name)), 0.62)


def light_between(one: str, other: str) -> float:
    """Pixels of paper between the edges of two shapes; below nought where their lines overlap."""
    nearest = min(
        _from_line(point, *side)
        for first, second in ((one, other), (other, one)) for line in outlines(first) for point in line
        for edge in outlines(second) for side in zip(edge, edge[1:])
    )
    return nearest - _half(one) - _half(other)


def piece(plate: Plate, name: str) -> str:
    """A shape by the word of its part and its place there; "rack-hook/2/1" is the first shape of the second part that is a rack hook."""
    word, part, place = name.split("/")
    return [each for each in plate.parts if each.of == f"term:{word}"][int(part) - 1].draw[int(place) - 1]


def of(library: Library, plate: str, *names: str) -> list[str]:
    return [piece(library[f"plate:{plate}"], name) for name in names]


@pytest.mark.parametrize(("plate", "one", "other"), [
    ("quarter-rack", "rack-tail/1/2", "snail/1/1"),
    ("quarter-rack", "rack-tail/2/2", "quarter-snail/1/1"),
    ("quarter-rack", "quarter-rack/1/5", "rack-hook/1/1"),
    ("quarter-rack", "rack-hook/2/1", "quarter-rack/1/1"),
    ("quarter-rack", "warning-wheel/1/3", "warning-piece/1/1"),
    ("movement-front", "gathering-pallet/1/2", "rack/1/3"),
    ("movement-front", "minute-pin/1/1", "lifting-piece/1/1"),
    ("star-and-jumper", "jumper/1/1", "star-wheel/1/1"),
    ("star-and-jumper", "minute-wheel/1/3", "star-wheel/1/1"),
    ("click-work", "click/1/1", "ratchet/1/1"),
    ("all-or-nothing", "rack-tail/1/2", "snail/1/1"),
    ("all-or-nothing", "all-or-nothing-piece/1/1", "quarter-rack/1/3"),
    ("all-or-nothing", "all-or-nothing-piece/1/1", "all-or-nothing-piece/1/4"),
    ("all-or-nothing", "all-or-nothing-piece/1/1", "all-or-nothing-piece/1/5"),
    ("all-or-nothing", "jumper/1/1", "star-wheel/1/1"),
    ("flirt", "minute-pin/1/1", "flirt/1/2"),
    ("flirt", "locking-wheel/1/3", "locking-piece/1/1"),
    ("flirt", "rack-hook/1/1", "rack/1/2"),
    ("flirt", "flirt/1/1", "rack-hook/1/1"),
    ("flirt", "flirt/1/3", "flirt/1/2"),
    ("cuckoo-bellows", "pin-wheel/1/2", "bellows-lever/1/1"),
    ("moon-work", "moon-work/1/1", "moon-work/2/1"),
    ("moon-work", "moon-work/3/1", "moon-dial/1/1"),
    ("moon-work", "jumper/1/1", "moon-dial/1/1"),
    ("maintaining-power", "click/1/1", "ratchet/1/1"),
    ("maintaining-power", "detent/1/1", "maintaining-power/1/1"),
    ("maintaining-power", "harrison-maintaining/1/1", "great-wheel/2/1"),
    ("maintaining-power", "harrison-maintaining/1/2", "great-wheel/2/2"),
    ("maintaining-power", "click-spring/1/1", "click/1/1"),
])
def test_what_leans_touches(library: Library, plate: str, one: str, other: str) -> None:
    assert abs(light_between(*of(library, plate, one, other))) < TOUCHING


@pytest.mark.parametrize(("plate", "one", "other"), [
    ("quarter-rack", "rack-hook/1/1", "hour-rack/1/1"),
    ("movement-front", "rack-tail/1/2", "snail/1/1"),
    ("all-or-nothing", "quarter-rack/1/2", "quarter-snail/1/1"),
    ("cuckoo-bellows", "pin-wheel/1/3", "bellows-lever/1/3"),
    ("maintaining-power", "great-wheel/2/1", "maintaining-power/1/1"),
])
def test_what_is_lifted_is_clear(library: Library, plate: str, one: str, other: str) -> None:
    assert light_between(*of(library, plate, one, other)) > 2.5


@pytest.mark.parametrize(("plate", "one", "other"), [
    ("cuckoo-bellows", "bellows-wire/1/1", "bellows-lever/1/1"),
    ("cuckoo-bellows", "bellows-wire/1/2", "bellows-lever/1/3"),
    ("cuckoo-bellows", "bellows-wire/1/1", "bellows/1/5"),
    ("cuckoo-bellows", "bellows-wire/1/2", "bellows/1/10"),
    ("cuckoo-bellows", "count-hook/1/1", "count-wheel/1/1"),
    ("cuckoo-bellows", "strike-wire/1/1", "count-hook/1/1"),
])
def test_what_hangs_on_a_piece_reaches_it(library: Library, plate: str, one: str, other: str) -> None:
    assert light_between(*of(library, plate, one, other)) < TOUCHING


def test_the_two_ratchets_of_maintaining_power_lean_opposite_ways(library: Library) -> None:
    """The weight turns the one against its click, and the other must not go back the same way (Beckett 1903, pp. 149-150)."""
    winding, maintaining = (numbers(words)[-1] for words in of(library, "maintaining-power", "ratchet/1/1", "maintaining-power/1/1"))
    assert winding > 0 > maintaining


def numbers(words: str) -> list[float]:
    return [float(value) for value in words.split() if re.fullmatch(r"-?[\d.]+", value)]


def turn_to(pivot: Point, reach: float, centre: Point, away: float, near: float) -> float:
    """The direction nearest to `near` in which the end of an arm stands so far from a centre."""
    near_enough = [angle / 50 for angle in range(int(near * 50) - 2000, int(near * 50) + 2000) if abs(math.dist(polar(pivot, reach, angle / 50), centre) - away) < 0.05]
    return min(near_enough, key=lambda angle: abs(angle - near))


# Goodrich 1905, p. 337: the tail is set so that each step of the snail brings the proper tooth to the pallet.
@pytest.mark.parametrize(("plate", "tail", "cam", "rack"), [
    ("quarter-rack", "rack-tail/1", "snail/1/1", "hour-rack/1/1"), ("quarter-rack", "rack-tail/2", "quarter-snail/1/1", "quarter-rack/1/1"),
    ("movement-front", "rack-tail/1", "snail/1/1", "rack/1/1"), ("all-or-nothing", "rack-tail/1", "snail/1/1", "hour-rack/1/1"),
    ("flirt", "rack-tail/1", "snail/1/1", "rack/1/1"),
])
def test_each_step_lets_the_rack_fall_by_one_tooth(library: Library, plate: str, tail: str, cam: str, rack: str) -> None:
    arm, pin, steps, teeth = of(library, plate, f"{tail}/1", f"{tail}/2", cam, rack)
    x, y, _, *radii = numbers(steps)
    pivot, end = (numbers(arm)[0], numbers(arm)[1]), (numbers(pin)[0], numbers(pin)[1])
    here = math.degrees(math.atan2(end[0] - pivot[0], pivot[1] - end[1]))
    stands = sorted(turn_to(pivot, math.dist(pivot, end), (x, y), radius + numbers(pin)[2], here) for radius in radii)
    _, _, _, start, stop, count = numbers(teeth)
    assert [later - earlier for earlier, later in zip(stands, stands[1:])] == pytest.approx([(stop - start) / count] * (len(radii) - 1), abs=0.25)


def radii_at(words: str, count: int) -> list[float]:
    """The radius in the middle of each step, clockwise from the first."""
    x, y, turn, *rest = numbers(words)
    edge = next(outlines(words))
    return [max(math.dist((x, y), point) for point in edge[7 * step + 2:7 * step + 5]) for step in range(count)]


def test_a_snail_on_the_hour_hand_turns_clockwise_towards_deeper_steps() -> None:
    """Seen from the front: what comes round next lies anticlockwise, and is lower."""
    edge = next(outlines("snail 100 100 40 18 12"))
    radii = [math.dist((100, 100), edge[7 * step + 3]) for step in range(12)]
    assert radii == pytest.approx([18 + 2 * step for step in range(12)], abs=0.01)


def test_a_cam_has_the_steps_it_is_given() -> None:
    assert radii_at("cam 100 100 20 40 30 20 10", 4) == pytest.approx([40, 30, 20, 10], abs=0.01)


@pytest.mark.parametrize(("words", "leans"), [("ratchet 50 50 20 24", 1), ("ratchet 50 50 20 -24", -1)])
def test_a_ratchet_leans_one_way_or_the_other(words: str, leans: int) -> None:
    """From a root the edge rises gently to a point, clockwise or anticlockwise, and falls steeply."""
    (x0, y0), (x1, y1), *_ = next(outlines(words))
    turned = (math.degrees(math.atan2(x1 - 50, 50 - y1)) - math.degrees(math.atan2(x0 - 50, 50 - y0)) + 180) % 360 - 180
    assert turned == pytest.approx(leans * 0.94 * 15, abs=0.3)
