"""Rack, snail, count wheel and pin barrel: what is drawn strikes what it should."""
from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from build_tools.figures import count_wheel, pin_barrel, rack, strike_cycle
from build_tools.figures.svg import polar, turned
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


def distance(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


def from_line(point: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    return abs((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])) / distance(a, b)


def test_the_pallet_stops_the_train_on_the_pin_of_the_rack_and_is_free_when_the_rack_has_fallen_by_one_tooth() -> None:
    shape = strike_cycle.RACK
    arbor, stop = rack.pallet_arbor(shape), rack.pallet_stop(shape)
    tail = polar(arbor, distance(arbor, stop), rack.pallet_at_rest(shape) + rack.TAIL)
    assert from_line(stop, arbor, tail) == pytest.approx(2.5 + 1.1, abs=0.01)
    assert tail[1] < stop[1], "turning anticlockwise the tail comes down on the pin from above"
    fallen = shape.edge(-1.3, 1, 8)
    assert distance(arbor, fallen) > distance(arbor, tail) + 2.5, "one o'clock: the tail swings past"


def test_the_gathering_pallet_turns_so_that_its_tooth_carries_the_rack_up() -> None:
    """The rack falls to the left, so the tooth, below its arbor while it gathers, must move to the right: anticlockwise."""
    shape, running = strike_cycle.RACK, strike_cycle.RACK_STATES[2]
    tooth = rack.pallet_at_rest(shape) - running.turn
    arbor = rack.pallet_arbor(shape)
    before, after = polar(arbor, 17, tooth), polar(arbor, 17, tooth - 5)
    assert before[1] > arbor[1] and after[0] > before[0]
    assert shape.edge(0, 1)[0] < shape.edge(0, 0)[0]


@pytest.mark.parametrize("piece", [strike_cycle.RACK_LIFTING, strike_cycle.COUNT_LIFTING])
def test_at_warning_the_raised_piece_holds_the_pin_and_dropped_it_lets_it_go(piece: strike_cycle.Lifting) -> None:
    raised = turned(piece.piece, piece.arbor, strike_cycle.LIFT)
    assert distance(raised, piece.pin_of_warning(180)) == pytest.approx(2 * strike_cycle.PIN, abs=0.05)
    assert min(distance(piece.piece, piece.pin_of_warning(turn)) for turn in range(360)) > 2 * strike_cycle.PIN
    assert distance(piece.pin_of_warning(0), piece.pin_of_warning(180)) == pytest.approx(2 * distance(piece.warning, piece.pin_of_warning(0)))


@pytest.mark.parametrize("piece", [strike_cycle.RACK_LIFTING, strike_cycle.COUNT_LIFTING])
def test_the_lifting_pin_leans_on_the_raised_tail_and_has_passed_it_when_the_piece_drops(piece: strike_cycle.Lifting) -> None:
    warned, struck = strike_cycle.RACK_STATES[1].minute, strike_cycle.RACK_STATES[2].minute
    assert from_line(piece.pin_of_minute(warned), piece.arbor, piece.tail(True)) == pytest.approx(strike_cycle.PIN + strike_cycle.ARM, abs=0.01)
    assert distance(piece.arbor, piece.pin_of_minute(struck)) > distance(piece.arbor, piece.tail(False)) + strike_cycle.PIN
    assert distance(piece.arbor, piece.pin_of_minute(warned)) < distance(piece.arbor, piece.tail(True))


def test_the_count_hook_lies_in_a_notch_at_rest_and_on_the_rim_while_the_train_runs() -> None:
    rest, warned, running, locked = strike_cycle.COUNT_STATES
    tip = strike_cycle.BLADE[0]

    def radius(state: strike_cycle.State) -> float:
        return distance(strike_cycle.COUNT_CENTRE, turned(tip, strike_cycle.DETENT, state.detent))

    assert radius(rest) == radius(locked) == pytest.approx(strike_cycle.RADIUS * (1 - count_wheel.DEEP))
    assert radius(running) == pytest.approx(strike_cycle.RADIUS, abs=1)
    assert radius(warned) > strike_cycle.RADIUS + 5


def test_the_locking_piece_holds_the_pin_and_swings_clear_of_it_on_the_rim() -> None:
    foot = strike_cycle.LOCKING_ARM[-1]
    pin = strike_cycle.pin_of_locking(0)
    assert pin[1] - foot[1] == pytest.approx(strike_cycle.PIN + strike_cycle.ARM) and abs(pin[0] - foot[0]) < strike_cycle.PIN
    riding = turned(foot, strike_cycle.DETENT, strike_cycle.COUNT_STATES[2].detent)
    assert min(distance(riding, strike_cycle.pin_of_locking(turn)) for turn in range(360)) > strike_cycle.PIN + strike_cycle.ARM


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
    drawings += [*strike_cycle.rack_cycle("a", {}), *strike_cycle.count_wheel_cycle("b", {})]
    for drawing in drawings:
        assert overlapping(drawn(drawing)) == []
        assert all(left >= 0 and right <= 328 for left, _, right, _, _ in boxes(drawn(drawing)))
