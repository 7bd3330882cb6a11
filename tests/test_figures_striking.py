"""Rack, snail, count wheel and pin barrel: what is drawn strikes what it should."""
from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from build_tools.figures import count_wheel, pin_barrel, rack, strike_cycle
from build_tools.library import Library
from tests.test_figures_trains import SVG, boxes, drawn, overlapping

WORDS = {"rack": "#", "snail": "#", "rack hook": "#", "rack tail": "#", "count wheel": "#"}


def test_each_step_of_the_snail_lets_the_rack_fall_by_one_tooth_more() -> None:
    shape = rack.Rack()
    for hour in range(1, 13):
        steps = {number: radius for number, (radius, _, _) in enumerate(rack.outline_of_snail(shape, hour), 1)}
        assert len(steps) == 12 and all(deeper < higher for higher, deeper in pairwise(steps.values()))
        x, y = shape.tail_pin(hour)
        assert math.hypot(x - shape.snail[0], y - shape.snail[1]) == pytest.approx(steps[hour] + shape.pin)


def test_the_tail_rests_in_the_middle_of_its_step() -> None:
    shape = rack.Rack()
    for hour in range(1, 13):
        x, y = shape.tail_pin(hour)
        towards = math.degrees(math.atan2(x - shape.snail[0], shape.snail[1] - y))
        _, start, end = rack.outline_of_snail(shape, hour)[hour - 1]
        assert (start + end) / 2 == pytest.approx(towards) and end - start == 30


# Common practice: 78 parts for hours alone, 90 with a blow at each half hour.
@pytest.mark.parametrize(("strikes", "parts", "raised"), [(count_wheel.HOURS, 78, 11), (count_wheel.with_half_hours(), 90, 11)])
def test_the_count_wheel_has_a_part_for_each_blow(strikes: tuple[int, ...], parts: int, raised: int) -> None:
    assert sum(strikes) == parts
    found = count_wheel.lands(strikes)
    assert len(found) == raised
    blows = [round((end - start) * parts / 360) + 1 for start, end in found]
    assert blows == [blow for blow in strikes if blow > 1]


def test_the_wheel_turns_from_notch_to_notch_while_it_strikes() -> None:
    rest, locked = strike_cycle.COUNT_STATES[0], strike_cycle.COUNT_STATES[-1]
    assert locked.wheel - rest.wheel == pytest.approx(strike_cycle.HOUR * 360 / 78, abs=1e-3)


def test_the_rack_is_gathered_up_by_as_many_teeth_as_it_fell() -> None:
    rest, warned, running, locked = (state.fallen for state in strike_cycle.RACK_STATES)
    assert (rest, warned, locked) == (0, strike_cycle.HOUR, 0) and 0 < running < warned


def test_every_note_of_a_melody_is_a_pin_on_the_line_of_its_bell(library: Library) -> None:
    for melody in library.of_kind("melody"):
        svg = drawn(pin_barrel.unrolled(melody, melody.id))
        phrases = {phrase.id: phrase.bells for phrase in melody.phrases}
        for quarter, ids in melody.quarters.items():
            pins = [pin for pin in svg.iter(f"{SVG}circle") if pin.get("data-quarter") == quarter]
            heights = sorted({float(text.get("y")) for text in svg.iter(f"{SVG}text") if re.match(r"\d+  ", text.text or "")})
            rows = [min(range(len(heights)), key=lambda row: abs(heights[row] - float(pin.get("cy")))) % len(melody.bells) for pin in pins]
            assert [melody.bells[row].id for row in rows] == [bell for name in ids for bell in phrases[name]], melody.id


def test_labels_stand_clear(library: Library) -> None:
    drawings = [rack.rack_and_snail("r", hour, WORDS) for hour in range(1, 13)]
    drawings += [count_wheel.count_wheel("c", count_wheel.HOURS, "Count wheel", WORDS), count_wheel.count_wheel("h", count_wheel.with_half_hours(), "Count wheel", WORDS)]
    drawings += [pin_barrel.unrolled(melody, melody.id) for melody in library.of_kind("melody")]
    drawings += [strike_cycle.rack_cycle("a"), strike_cycle.count_wheel_cycle("b")]
    for drawing in drawings:
        assert overlapping(drawn(drawing)) == []
        assert all(left >= 0 and right <= 328 for left, _, right, _, _ in boxes(drawn(drawing)))
