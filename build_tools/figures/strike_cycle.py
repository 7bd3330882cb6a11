"""How a striking train is let off, warned, runs and is locked again, in four pictures: once with a rack, once with a count wheel.

Seen from the front; pixels, y growing downwards; angles in degrees clockwise from twelve o'clock. The wheel of the gathering pallet (or the
locking wheel) drives the warning wheel, so that the two turn opposite ways; the lifting pin goes round anticlockwise with the minute wheel.
"""
from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from build_tools.figures import count_wheel
from build_tools.figures.names import Name, named, numbered
from build_tools.figures.rack import Rack, gathering_pallet, hook, hook_pivot, pallet_arbor, pallet_at_rest, rack_shape, snail
from build_tools.figures.svg import WIDTH, Point, arc, circle, drawing, group, path, polar, turned

SCALE = 0.9  # from the pictures' own pixels to those of the page
TALL = 330
HOUR = 4  # the example: four o'clock, the second blow just struck in the third picture
LIFT = 5.0  # degrees by which the lifting piece is raised
PIN, ARM = 3.5, 1.1  # radius of a pin; half the width of a thick line


@dataclass(frozen=True)
class State:
    """One moment: its title and text, and how far each piece has moved. Angles in degrees, `fallen` in teeth of the rack.

    `turn` is that of the gathering pallet or locking wheel since it was at rest, `since` that of the warning wheel, both counted as they go.
    """

    title: str
    says: str
    fallen: float = 0.0
    detent: float = 0.0
    turn: float = 0.0
    since: float = 0.0
    minute: float = 200.0
    wheel: float = 0.0
    warned: bool = False
    runs: bool = False


RACK_STATES = (
    State("At rest", "The rack is gathered up and held by its hook. The tail of the gathering pallet leans on the pin of the rack, and that holds the whole train."),
    State("Warning", "Some minutes before the hour a pin of the minute wheel raises the lifting piece. It lifts the rack hook; the rack falls until its tail meets the snail, "
          "here on the step of four. The train starts, but the warning piece, which rises with the lifting piece, catches the pin of the warning wheel after half a turn.",
          float(HOUR), turn=22.5, since=180.0, minute=5.0, warned=True),
    State("Running", "On the hour the lifting piece drops and the warning piece lets the pin go. The train runs; for each blow the gathering pallet takes up one tooth, and the "
          "hook holds what has been taken up. Two blows have been struck, two teeth are left.", HOUR - 2.0, turn=262.0, since=250.0, minute=-25.0, runs=True),
    State("Locking", "With the last tooth the rack is up again. The tail of the gathering pallet meets the pin of the rack and stops the train; the wheel with the pin stands half "
          "a turn from the warning piece, ready for the next hour.", minute=-40.0),
)
COUNT_STATES = (
    State("At rest", "The count hook lies in a notch of the count wheel. The locking piece on the same arbor stands in the way of the pin of the locking wheel and holds the train."),
    State("Warning", "Some minutes before the hour a pin of the minute wheel raises the lifting piece. Count hook and locking piece rise, and the train starts, but the warning "
          "piece, which rises with the lifting piece, catches the pin of the warning wheel after half a turn.", detent=8.0, turn=22.5, since=180.0, minute=5.0, warned=True),
    State("Running", "On the hour the lifting piece drops and the train runs. The count hook now rides on a raised part of the rim, so that the locking piece cannot fall in: "
          "the locking wheel makes one turn for each blow.", detent=4.3, turn=120.0, since=250.0, minute=-25.0, wheel=11.5, runs=True),
    State("Locking", "After the last blow the next notch comes under the count hook. It falls in, the locking piece falls with it, meets the pin, and the train stands. "
          "Nothing here knows what the hands show: stop it, and the next hour follows all the same.", minute=-40.0, wheel=HOUR * 360 / sum(count_wheel.HOURS)),
)


def rack_cycle(name: str, addresses: Mapping[str, str]) -> list[str]:
    """The four pictures of rack striking as SVG, the first with names."""
    return _four(name, "Rack striking", RACK_STATES, _rack_picture, named(RACK_NAMES, addresses))


def count_wheel_cycle(name: str, addresses: Mapping[str, str]) -> list[str]:
    """The four pictures of count-wheel striking as SVG, the first with names."""
    return _four(name, "Count-wheel striking", COUNT_STATES, _count_picture, named(COUNT_NAMES, addresses))


def rack_blank(name: str) -> str:
    """Rack striking at rest with numbers in place of names."""
    return _four(name, "Rack striking", RACK_STATES[:1], _rack_picture, numbered(RACK_NAMES))[0]


def count_blank(name: str) -> str:
    """Count-wheel striking at rest with numbers in place of names."""
    return _four(name, "Count-wheel striking", COUNT_STATES[:1], _count_picture, numbered(COUNT_NAMES))[0]


def _four(name: str, title: str, states: Sequence[State], picture: Callable[[State], str], names: Sequence[str]) -> list[str]:
    made = []
    for place, state in enumerate(states, 1):
        body = group(picture(state), "scaled", f'transform="translate(0 24) scale({SCALE})"')
        made.append(drawing(f"{name}-{place}", f"{title}, {place}: {state.title.lower()}", state.says, (WIDTH, TALL), [body, *(names if place == 1 else [])], "cycle"))
    return made


@dataclass(frozen=True)
class Lifting:
    """The lifting piece on its arbor: the tip that lifts, the wheel with the lifting pin, the warning piece and the wheel that it stops."""

    arbor: Point
    tip: Point
    clockwise: bool  # the way in which the warning wheel turns

    @property
    def minute(self) -> Point:
        return self.arbor[0] - 60, self.arbor[1] + 78

    @property
    def piece(self) -> Point:
        """Where the warning piece stands at rest."""
        return self.arbor[0] - 52, self.arbor[1] - 96

    @property
    def warning(self) -> Point:
        """The middle of the warning wheel: the raised warning piece stands in the path of its pin."""
        x, y = turned(self.piece, self.arbor, LIFT)
        return x + 23, y - 12

    @property
    def caught(self) -> float:
        """The angle at which the pin of the warning wheel leans on the raised piece."""
        (x, y), (cx, cy) = turned(self.piece, self.arbor, LIFT), self.warning
        back = math.degrees(2 * PIN / math.hypot(x - cx, y - cy))
        return math.degrees(math.atan2(x - cx, cy - y)) + (-back if self.clockwise else back)

    def pin_of_warning(self, since: float) -> Point:
        """The pin when the warning wheel has turned so far since it was at rest; half a turn brings it to the raised piece."""
        way = 1 if self.clockwise else -1
        return polar(self.warning, math.hypot(23, 12), self.caught + way * (since - 180))

    def pin_of_minute(self, angle: float) -> Point:
        return polar(self.minute, 24, angle)

    def tail(self, warned: bool) -> Point:
        """The end of the tail; raised, it leans on the pin of the warning state."""
        x, y = self.pin_of_minute(RACK_STATES[1].minute)
        reach = math.hypot(x - self.arbor[0], y - self.arbor[1])
        aside = math.degrees(math.asin((PIN + ARM) / reach))
        towards = math.degrees(math.atan2(x - self.arbor[0], self.arbor[1] - y)) + aside
        return polar(self.arbor, reach + 5, towards - (0.0 if warned else LIFT))


RACK = Rack(pivot=(116.0, 212.0), snail=(190.0, 264.0), tail=60.0)
RACK_LIFTING = Lifting((346.0, 158.0), (160.0, 37.0), True)
COUNT_LIFTING = Lifting((346.0, 196.0), (176.0, 110.0), False)
RACK_NAMES = (
    Name("gathering pallet", (4, 14), (112.0, 66.0)), Name("rack hook", (140, 14), (164.0, 52.0)), Name("warning wheel", (324, 14), (300.0, 56.0), "end"),
    Name("rack", (4, 150), (92.0, 92.0)), Name("rack tail", (4, 240), (98.0, 250.0)), Name("lifting piece", (136, 150), (226.0, 108.0)),
    Name("warning piece", (136, 178), (270.0, 78.0)), Name("snail", (4, 320), (148.0, 296.0)), Name("minute wheel", (324, 320), (262.0, 254.0), "end"),
)
COUNT_NAMES = (
    Name("count hook", (4, 14), (90.0, 126.0)), Name("warning wheel", (324, 14), (296.0, 92.0), "end"), Name("count wheel", (4, 320), (92.0, 306.0)),
    Name("locking piece", (108, 52), (234.0, 128.0)), Name("warning piece", (108, 76), (268.0, 112.0)), Name("lifting piece", (108, 100), (200.0, 143.0)),
    Name("locking wheel", (116, 320), (240.0, 214.0)), Name("minute wheel", (324, 320), (262.0, 288.0), "end"),
)


def _rack_picture(state: State) -> str:
    tip = turned(RACK_LIFTING.tip, RACK_LIFTING.arbor, LIFT if state.warned else 0.0)
    parts = [
        snail(RACK, HOUR), rack_shape(RACK, state.fallen), hook(RACK, _hook_lift(tip) if state.warned else 0.0),
        gathering_pallet(RACK, pallet_at_rest(RACK) - state.turn), _lifting(RACK_LIFTING, state), _warning(RACK_LIFTING, state),
    ]
    return "".join([*parts, _arrow(pallet_arbor(RACK), 22, False) if state.runs else ""])


def _hook_lift(tip: Point) -> float:
    """How far the end of the hook rises when its arm lies on the tip of the lifting piece."""
    (x, y), reach = hook_pivot(RACK), 150.0
    return (y - (tip[1] - 2 * ARM)) / (x - tip[0]) * reach


COUNT_CENTRE, RADIUS, DETENT = (100.0, 226.0), 92.0, (262.0, 96.0)
LOCKING, LOCKING_PIN = (284.0, 200.0), 19.0
BLADE = ((100.0, 226 - RADIUS * 0.87), (100.0, 112.0), DETENT)
LOCKING_ARM = (DETENT, (250.0, 188.0), (265.0, 188.0))


def pin_of_locking(turn: float) -> Point:
    """The pin of the locking wheel; at rest it leans on the underside of the locking piece."""
    angle = 270 + math.degrees(math.asin((LOCKING[1] - LOCKING_ARM[-1][1] - PIN - ARM) / LOCKING_PIN))
    return polar(LOCKING, LOCKING_PIN, angle + turn)


def _count_picture(state: State) -> str:
    parts = [
        count_wheel.small(COUNT_CENTRE, RADIUS, count_wheel.HOURS, _notch(HOUR) + state.wheel),
        group([path([turned(point, DETENT, state.detent) for point in piece], "thick") for piece in (BLADE, LOCKING_ARM)], "detent"), circle(DETENT, 5, "paper"),
        circle(LOCKING, 23, "line"), circle(pin_of_locking(state.turn), PIN, "solid"), circle(LOCKING, 2, "solid"),
        _lifting(COUNT_LIFTING, state), _warning(COUNT_LIFTING, state),
    ]
    return "".join([*parts, _arrow(LOCKING, 29, True) if state.runs else ""])


def _notch(hour: int) -> float:
    """Degrees by which the count wheel is turned so that the notch before an hour is at the top."""
    return sum(range(1, hour)) * 360 / sum(count_wheel.HOURS) + 180 / sum(count_wheel.HOURS)


def _lifting(piece: Lifting, state: State) -> str:
    """The lifting piece with its tail and warning piece, and the wheel whose pin raises it before the hour."""
    raised, style = (LIFT, "thick accent") if state.warned else (0.0, "thick")
    tip, warning = (turned(point, piece.arbor, raised) for point in (piece.tip, piece.piece))
    return group([
        circle(piece.minute, 30, "line"), circle(piece.minute, 2, "solid"), circle(piece.pin_of_minute(state.minute), PIN, "solid"),
        path([tip, piece.arbor, piece.tail(state.warned)], style), path([piece.arbor, warning], style),
        circle(warning, PIN, "accent paper" if state.warned else "paper"), circle(piece.arbor, 5, "paper"),
    ], "lifting-piece")


def _warning(piece: Lifting, state: State) -> str:
    """The warning wheel with its pin."""
    arrow = _arrow(piece.warning, 16, piece.clockwise) if state.runs else ""
    return group([circle(piece.warning, 32, "thin"), circle(piece.warning, 2, "solid"), circle(piece.pin_of_warning(state.since), PIN, "solid"), arrow], "warning")


def _arrow(centre: Point, radius: float, clockwise: bool) -> str:
    """A turn one way or the other."""
    start, end, back = (30, 100, -8) if clockwise else (100, 30, 8)
    tip = polar(centre, radius, end)
    barbs = [polar(centre, radius + side, end + back * 60 / radius) for side in (-5, 5)]
    return group([arc(centre, radius, start, end, "accent"), path([barbs[0], tip, barbs[1]], "accent")])
