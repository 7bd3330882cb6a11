"""Rack and snail to scale: the snail's steps follow from the rack, so that each hour lets it fall by one tooth more.

Pixels; y grows downwards; angles in degrees clockwise from twelve o'clock.
"""
from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from build_tools.figures.names import Name, named, numbered
from build_tools.figures.svg import WIDTH, Point, arc, circle, drawing, group, line, path, polar, text

HOURS = 12
TOUCHING = 3.6  # px from the middle of the rack's pin to that of the pallet's tail
CLEAR_OF_RACK = 60.0  # the direction of the pallet's tooth between two blows
TAIL = 150.0  # degrees from the tooth of the gathering pallet to its tail


@dataclass(frozen=True)
class Rack:
    """One arrangement. `pitch` is the angle of one tooth; `hold` the direction from the pivot in which the hook holds the rack.

    Falling, the rack turns to the left by `pitch` a tooth, and its tail, which hangs down, comes nearer to the snail at its right.
    """

    pivot: Point = (146.0, 212.0)
    snail: Point = (236.0, 266.0)
    teeth_radius: float = 150.0
    tail: float = 66.0
    pitch: float = 2.6
    hold: float = -8.0
    tail_up: float = 190.0
    pin: float = 3.0

    def tail_pin(self, fallen: float) -> Point:
        """The middle of the tail's pin when the rack has fallen by so many teeth."""
        return polar(self.pivot, self.tail, self.tail_up - fallen * self.pitch)

    def step(self, hour: int) -> float:
        """The radius of the snail's step on which the tail rests when the rack has fallen by `hour` teeth."""
        x, y = self.tail_pin(hour)
        return math.hypot(x - self.snail[0], y - self.snail[1]) - self.pin

    def edge(self, number: float, fallen: float, depth: float = 0.0) -> Point:
        """A point of the toothed edge, counted in teeth from the end that is gathered last."""
        return polar(self.pivot, self.teeth_radius - depth, self.hold + (number - fallen) * self.pitch)


def outline_of_snail(rack: Rack, hour: int) -> list[tuple[float, float, float]]:
    """The steps as (radius, from, to), angles on the dial side, turned so that the tail's pin meets the middle of the step for `hour`."""
    x, y = rack.tail_pin(hour)
    towards = math.degrees(math.atan2(x - rack.snail[0], rack.snail[1] - y))
    wide = 360 / HOURS
    return [(rack.step(step), towards + (hour - step - 0.5) * wide, towards + (hour - step + 0.5) * wide) for step in range(1, HOURS + 1)]


def snail(rack: Rack, hour: int) -> str:
    """The snail with a step for each hour."""
    parts = []
    for radius, start, end in outline_of_snail(rack, hour):
        parts.append(arc(rack.snail, radius, start, end, "line step"))
    steps = outline_of_snail(rack, hour)
    for (first, start, _), (second, _, _) in zip(steps, steps[1:] + steps[:1]):
        parts.append(line(polar(rack.snail, first, start), polar(rack.snail, second, start)))
    return group([*parts, circle(rack.snail, 9, "line"), circle(rack.snail, 2, "solid")], "snail")


def rack_shape(rack: Rack, fallen: float, teeth: int = HOURS + 2) -> str:
    """The rack with its teeth, arm, tail, and the pin at its end on which the gathering pallet comes to rest."""
    points: list[Point] = []
    for number in range(teeth):
        points += [rack.edge(number, fallen, 6), rack.edge(number, fallen), rack.edge(number + 1, fallen, 6)]
    inner = [rack.edge(teeth, fallen, 15), rack.edge(-2, fallen, 15), rack.edge(-2, fallen, 6)]
    arm_at, tail = rack.edge(teeth * 0.4, fallen, 15), rack.tail_pin(fallen)
    return group([
        path([*points, *inner], "line paper", closed=True), line(rack.pivot, arm_at, "thick"), line(rack.pivot, tail, "thick"),
        circle(rack.edge(-1.3, fallen, 8), 2.5, "solid"), circle(tail, rack.pin, "solid"), circle(rack.pivot, 5, "paper"), circle(rack.pivot, 1.6, "solid"),
    ], "rack")


def hook_pivot(rack: Rack) -> Point:
    x, y = rack.edge(0, 0, 6)
    return x + 150, y - 40


def hook(rack: Rack, lifted: float = 0.0) -> str:
    """The rack hook with its tip between two teeth, or lifted by so many pixels."""
    x, y = rack.edge(0, 0, 6)
    return group([path([(x, y - lifted), (x + 1, y - 38 - lifted), hook_pivot(rack)], "thick"), circle(hook_pivot(rack), 4, "paper")], "hook")


def pallet_arbor(rack: Rack) -> Point:
    """The middle of the gathering pallet."""
    return rack.edge(4.6, 0, -13)


def pallet_stop(rack: Rack) -> Point:
    """Where the rack's pin stands with the rack gathered up."""
    return rack.edge(-1.3, 0, 8)


def pallet_at_rest(rack: Rack) -> float:
    """The direction of the pallet's tooth when its tail, turning anticlockwise, has come down on the rack's pin."""
    (x, y), stop = pallet_arbor(rack), pallet_stop(rack)
    above = math.degrees(math.asin(TOUCHING / math.hypot(stop[0] - x, stop[1] - y)))
    return math.degrees(math.atan2(stop[0] - x, y - stop[1])) + above - TAIL


def gathering_pallet(rack: Rack, turned: float) -> str:
    """The pallet on its arbor, its tooth pointing in a direction in degrees; the long tail lies opposite."""
    centre, stop = pallet_arbor(rack), pallet_stop(rack)
    long = math.hypot(centre[0] - stop[0], centre[1] - stop[1])
    return group([
        line(centre, polar(centre, 17, turned), "thick"), line(centre, polar(centre, long, turned + TAIL), "thick"),
        circle(centre, 4, "paper"), circle(centre, 1.4, "solid"),
    ], "gathering-pallet")


def rack_and_snail(name: str, hour: int, addresses: Mapping[str, str]) -> str:
    """SVG of rack and snail as they stand when the tail has fallen on the step of an hour."""
    return _drawing(name, hour, named(names_at(hour), addresses))


def rack_blank(name: str, hour: int) -> str:
    """The same with numbers in place of names."""
    return _drawing(name, hour, numbered(names_at(hour)))


def names_at(hour: int) -> tuple[Name, ...]:
    """The names with what they point to when the rack has fallen for an hour."""
    rack, (x, y) = Rack(), hook_pivot(Rack())
    return (
        Name("gathering pallet", (4, 22), polar(pallet_arbor(rack), 10, CLEAR_OF_RACK)), Name("rack hook", (232, 20), (x - 30, y)), Name("rack", (4, 152), rack.edge(2, hour, 12)),
        Name("rack tail", (4, 260), polar(rack.pivot, 40, rack.tail_up - hour * rack.pitch)), Name("snail", (218, 296), None),
    )


def _drawing(name: str, hour: int, names: Sequence[str]) -> str:
    rack, title = Rack(), f"Rack and snail, the tail on the step of {hour} o’clock"
    numbers = [_number(rack, hour, step) for step in range(1, HOURS + 1)]
    parts = [snail(rack, hour), *numbers, rack_shape(rack, hour), hook(rack), gathering_pallet(rack, CLEAR_OF_RACK), *names]
    return drawing(name, title, words_of(hour), (WIDTH, 366), parts, "rack-and-snail")


def _number(rack: Rack, hour: int, step: int) -> str:
    """The hour of a step, written inside its edge."""
    radius, start, end = outline_of_snail(rack, hour)[step - 1]
    x, y = polar(rack.snail, radius - 9, (start + end) / 2)
    return text((x, y + 4), str(step), "small soft")


def words_of(hour: int) -> str:
    """The same in words."""
    return (
        "The snail has twelve steps and turns with the hour hand. "
        f"The tail of the rack has fallen on the step of {hour} o’clock, and the rack has moved back by {hour} teeth. "
        "Each step is deeper than the one before by what one tooth of the rack needs, so that the rack falls by one tooth at one o’clock and by twelve at twelve; "
        "the gathering pallet then takes one tooth back for each blow."
    )
