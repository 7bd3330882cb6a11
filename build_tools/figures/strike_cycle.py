"""How a striking train is let off, warned, runs and is locked again, in four pictures: once with a rack, once with a count wheel."""
from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from build_tools.figures import count_wheel
from build_tools.figures.rack import Rack, gathering_pallet, hook, pallet_arbor, pallet_at_rest, rack_shape, snail
from build_tools.figures.svg import WIDTH, Point, arc, circle, drawing, group, line, path, polar, rectangle, text

INNER = (360.0, 344.0)  # the size in which one picture is laid out
SMALL = (WIDTH - 8) / 2 / INNER[0]
HOUR = 4  # the example: four o'clock, the second blow just struck in the third picture


@dataclass(frozen=True)
class State:
    """One moment: its title and text, and how far each piece has moved. Angles in degrees, `fallen` in teeth of the rack."""

    title: str
    says: str
    raised: float
    fallen: float = 0.0
    pallet: float | None = None
    warned: float = 30.0
    minute: float = 250.0
    wheel: float = 0.0
    runs: bool = False


RACK_STATES = (
    State("At rest", "The rack is gathered up and held by its hook. The tail of the gathering pallet leans on the pin of the rack, and that holds the whole train.", 0.0),
    State("Warning", "Some minutes before the hour a pin raises the lifting piece. It lifts the rack hook; the rack falls until its tail meets the snail, here on the step of "
          "four. The train starts, but the warning piece, which rises with the lifting piece, catches the pin of the warning wheel after half a turn.",
          5.0, float(HOUR), 20.0, 186.0, 50.0),
    State("Running", "On the hour the lifting piece drops and the warning piece lets the pin go. The train runs; for each blow the gathering pallet takes up one tooth, and the "
          "hook holds what has been taken up. Two blows have been struck, two teeth are left.", 0.0, HOUR - 2.0, 175.0, 120.0, 30.0, runs=True),
    State("Locking", "With the last tooth the rack is up again. The tail of the gathering pallet meets the pin of the rack and stops the train; the wheel with the pin stands half "
          "a turn from the warning piece, ready for the next hour.", 0.0, 0.0, None, 30.0, 20.0),
)
COUNT_STATES = (
    State("At rest", "The count hook lies in a notch of the count wheel. The locking piece on the same arbor stands in the way of the pin of the locking wheel and holds the train.",
          0.0),
    State("Warning", "Some minutes before the hour a pin raises the lifting piece. Count hook and locking piece rise, and the train starts, but the warning piece "
          "catches the pin of the warning wheel after half a turn.", 7.0, warned=186.0, minute=50.0, pallet=40.0),
    State("Running", "On the hour the lifting piece drops and the train runs. The count hook now rides on a raised part of the rim, so that the locking piece cannot fall in: "
          "the locking wheel makes one turn for each blow.", 4.4, warned=120.0, minute=30.0, wheel=14.0, pallet=150.0, runs=True),
    State("Locking", "After the last blow the next notch comes under the count hook. It falls in, the locking piece falls with it, meets the pin, and the train stands. "
          "Nothing here knows what the hands show: stop it, and the next hour follows all the same.", 0.0, wheel=18.4615, warned=30.0, minute=20.0),
)


def rack_cycle(name: str) -> str:
    """SVG of the four pictures for rack striking."""
    return _four(name, "Rack striking in four pictures", RACK_STATES, _rack_picture)


def count_wheel_cycle(name: str) -> str:
    """SVG of the four pictures for count-wheel striking."""
    return _four(name, "Count-wheel striking in four pictures", COUNT_STATES, _count_picture)


def _four(name: str, title: str, states: Sequence[State], picture: Callable[[State], str]) -> str:
    tall, parts = INNER[1] * SMALL + 30, []
    for place, state in enumerate(states):
        left, top = (place % 2) * (WIDTH / 2 + 4), (place // 2) * tall
        parts.append(group(picture(state), "scaled", f'transform="translate({left:g} {top + 20:g}) scale({SMALL:.4f})"'))
        parts.append(text((left + 2, top + 14), f"{place + 1} {state.title}", "name", "start"))
    return drawing(name, title, in_words(states), (WIDTH, 2 * tall), parts, "cycle")


def moments(states: Sequence[State]) -> list[tuple[str, str]]:
    """Title and text of each picture."""
    return [(state.title, state.says) for state in states]


def in_words(states: Sequence[State]) -> str:
    """The four moments as text."""
    return " ".join(f"{place}. {state.title}: {state.says}" for place, state in enumerate(states, 1))


def _rack_picture(state: State) -> str:
    rack = Rack(pivot=(116.0, 212.0), snail=(190.0, 264.0), tail=60.0)
    lifted = 14.0 if state.raised else 0.0
    parts = [
        snail(rack, HOUR), rack_shape(rack, state.fallen), hook(rack, lifted),
        gathering_pallet(rack, pallet_at_rest(rack) if state.pallet is None else state.pallet), _lifting((352, 158), (214, 34), (304, 232), state), _warning((322, 62), (312, 108), state),
    ]
    return "".join([*parts, _arrow(pallet_arbor(rack), 22) if state.runs else ""])


def _count_picture(state: State) -> str:
    centre, radius, pivot = (100.0, 226.0), 92.0, (262.0, 96.0)
    turn = state.raised
    blade = [(100.0, 226 - radius * 0.87), (100.0, 112.0), pivot]
    arm = [pivot, (224.0, 182.0), (234.0, 188.0)]
    locking, pin = (256.0, 198.0), 278.0 + (state.pallet or 0.0)
    parts = [
        count_wheel.small(centre, radius, count_wheel.HOURS, _notch(HOUR) + state.wheel),
        group([path([_turned(point, pivot, turn) for point in blade], "thick"), path([_turned(point, pivot, turn) for point in arm], "thick"), circle(pivot, 5, "paper")], "detent"),
        circle(locking, 22, "line"), circle(polar(locking, 19, pin), 3, "solid"), circle(locking, 2, "solid"),
        _lifting((352, 196), (226, 112), (318, 262), state), _warning((330, 84), (318, 136), state),
    ]
    return "".join([*parts, _arrow(locking, 30) if state.runs else ""])


def _notch(hour: int) -> float:
    """Degrees by which the count wheel is turned so that the notch before an hour is at the top."""
    return sum(range(1, hour)) * 360 / sum(count_wheel.HOURS) + 180 / sum(count_wheel.HOURS)


def _turned(point: Point, pivot: Point, degrees: float) -> Point:
    angle = math.radians(degrees)
    x, y = point[0] - pivot[0], point[1] - pivot[1]
    return pivot[0] + x * math.cos(angle) - y * math.sin(angle), pivot[1] + x * math.sin(angle) + y * math.cos(angle)


def _lifting(pivot: Point, tip: Point, tail: Point, state: State) -> str:
    """The lifting piece with its tail, and the wheel whose pin raises it before the hour."""
    raised = 5.0 if state.minute == 50.0 else 0.0
    end = _turned(tail, pivot, raised)
    wheel = (tail[0] - 10, tail[1] + 26)
    return group([
        path([_turned(tip, pivot, raised), pivot, end], "thick accent" if raised else "thick"), circle(pivot, 5, "paper"),
        circle(wheel, 30, "line"), circle(wheel, 2, "solid"), circle(polar(wheel, 24, state.minute), 3.5, "solid"),
    ], "lifting-piece")


def _warning(wheel: Point, block: Point, state: State) -> str:
    """The warning wheel with its pin, and the warning piece that stands in its way when raised."""
    raised = 12 if state.minute == 50.0 else 0
    x, y = block[0] - 4, block[1] - 8 - raised
    return group([
        circle(wheel, 28, "line"), circle(wheel, 2, "solid"), circle(polar(wheel, 24, state.warned), 3.5, "solid"),
        rectangle(x, y, 9, 9, "accent deep" if raised else "deep"), _arrow(wheel, 34) if state.runs else "",
    ], "warning")


def _arrow(centre: Point, radius: float) -> str:
    """A turn to the right."""
    x, y = polar(centre, radius, 100)
    return group([arc(centre, radius, 30, 100, "accent"), path([(x - 1, y - 9), (x, y), (x + 8, y - 4)], "accent")])
