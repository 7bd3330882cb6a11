"""The shapes of a plate, read from their text: "circle 100 80 30", "thick line 10 20 60 20"."""
from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from build_tools.figures.count_wheel import HOURS, outline
from build_tools.figures.svg import Point, arc, circle, line, number, path, polar, rectangle, ring, text

HOLLOW, SLOT = 0.86, 3.2  # disc of a stopwork's finger as a part of its reach; half the width of a slot in px
STYLES = {"thin": "thin", "thick": "thick", "broken": "broken", "deep": "deep", "solid": "solid"}


def shape(words: str) -> str:
    """SVG of one shape; the schema has seen to it that the numbers fit."""
    first, *rest = words.split()
    style = STYLES.get(first, "")
    name, values = (rest[0], rest[1:]) if style else (first, rest)
    if name == "word":  # as it stands on a dial; its middle is given
        return text((float(values[0]), float(values[1])), values[2])
    return _SHAPES[name]([float(value) for value in values], style)


def bounds(words: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a shape; of a round one, of its whole circle."""
    first, *rest = words.split()
    name, values = (rest[0], rest[1:]) if first in STYLES else (first, rest)
    numbers = [float(value) for value in values]
    if name in ("line", "shape", "curve"):
        return min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])
    x, y, *size = numbers
    if name == "box":
        return x, y, x + size[0], y + size[1]
    reach = max(size[1:]) if name == "cam" else size[0] if size else 6.0
    return x - reach, y - reach, x + reach, y + reach


def point(words: str) -> Point:
    """A point from "x y"."""
    x, y = words.split()
    return float(x), float(y)


def _pairs(values: Sequence[float]) -> list[Point]:
    return list(zip(values[::2], values[1::2]))


def _line(values: Sequence[float], style: str) -> str:
    return path(_pairs(values), style or "line")


def _shape(values: Sequence[float], style: str) -> str:
    return path(_pairs(values), style or "paper", closed=True)


def _curve(values: Sequence[float], style: str) -> str:
    (x1, y1), (x2, y2), (x3, y3) = _pairs(values)
    return (f'<path class="{style or "line"}" d="M{number(x1)} {number(y1)}Q{number(x2)} {number(y2)} {number(x3)} {number(y3)}"/>')


def _circle(values: Sequence[float], style: str) -> str:
    return circle((values[0], values[1]), values[2], style or "paper")


def _dot(values: Sequence[float], style: str) -> str:
    return circle((values[0], values[1]), values[2], "solid")


def _box(values: Sequence[float], style: str) -> str:
    return rectangle(*values, style or "paper")


def _arc(values: Sequence[float], style: str) -> str:
    x, y, radius, start, end = values
    return arc((x, y), radius, start, end, style or "line")


def _wheel(values: Sequence[float], style: str) -> str:
    """A wheel with its teeth, rim, hub and five spokes."""
    x, y, radius, teeth = values
    rim, hub, centre = radius - max(3.5, radius * 0.13), max(2.5, radius * 0.16), (x, y)
    if radius < 13:
        return ring(centre, radius, int(teeth), "teeth")[:-2] + ' stroke-width="3"/>' + circle(centre, radius - 1.5, "line") + circle(centre, 1.4, "solid")
    spokes = "".join(line(polar(centre, hub, angle), polar(centre, rim, angle), "thin") for angle in range(0, 360, 72))
    teeth_ring = ring(centre, radius, int(teeth), "teeth")[:-2] + ' stroke-width="3.4"/>'
    return teeth_ring + circle(centre, radius - 1.7, "line") + circle(centre, rim, "thin") + spokes + circle(centre, hub, "line")


def _ratchet(values: Sequence[float], style: str) -> str:
    """A wheel with pointed teeth that lean forwards, clockwise; with a minus before their number, anticlockwise."""
    x, y, radius, teeth = values
    root = max(0.84, 1 - 2 * math.pi / abs(teeth))  # no tooth is deeper than it is long
    return _toothed((x, y, radius, teeth, 0.0), ((root, 0.0), (1.0, 0.94)), style)


def _points(values: Sequence[float], style: str) -> str:
    """An escape wheel whose pointed teeth lean forwards, clockwise; one tip stands at the angle `turn`."""
    return _toothed(values, ((0.84, -0.62), (1.0, 0.0), (0.84, -0.14)), style)


def _clubs(values: Sequence[float], style: str) -> str:
    """The wheel of a lever escapement, clockwise: each tooth ends in a sloping face; one locking corner stands at the angle `turn`."""
    return _toothed(values, ((0.76, -0.66), (0.84, -0.42), (0.95, -0.2), (1.04, -0.27), (1.0, 0.0), (0.76, -0.3)), style)


def _toothed(values: Sequence[float], outline: Sequence[Point], style: str) -> str:
    """A wheel whose every tooth has this outline: each point by its part of the radius, and of a tooth's step from the angle `turn` on."""
    x, y, radius, teeth, turn = values
    step = 360 / teeth
    points = [polar((x, y), radius * high, turn + (tooth + along) * step) for tooth in range(abs(int(teeth))) for high, along in outline]
    return path(points, style or "paper", closed=True)


def _geneva(values: Sequence[float], style: str) -> str:
    """The star of a stopwork for a finger at `distance`: slots for the finger, hollows between them that fit its disc, and at `turn` the one that is not hollowed."""
    x, y, distance, slots, turn = values
    half = math.pi / slots
    outer, crank, disc = distance * math.cos(half), distance * math.sin(half), distance * math.sin(half) * HOLLOW
    wide = math.degrees(math.asin(SLOT / outer))
    points: list[Point] = []
    for slot in range(int(slots)):
        middle = turn + slot * 360 / slots
        points += _hollow((x, y), distance, outer, disc, middle) if slot else [polar((x, y), outer, middle + step * (180 / slots - 2 * wide) / 6) for step in range(-6, 7)]
        at, inner = middle + 180 / slots, distance - crank - SLOT
        points += [polar((x, y), outer, at - wide), polar((x, y), inner, at - math.degrees(math.asin(SLOT / inner))),
                   polar((x, y), inner, at + math.degrees(math.asin(SLOT / inner))), polar((x, y), outer, at + wide)]
    return path(points, style or "paper", closed=True)


def _hollow(centre: Point, distance: float, outer: float, disc: float, middle: float) -> list[Point]:
    """The hollow that faces `middle`, an arc about the place of the finger's arbor."""
    arbor = polar(centre, distance, middle)
    across = math.degrees(math.acos((distance**2 + disc**2 - outer**2) / (2 * distance * disc)))
    return [polar(arbor, disc, middle + 180 + across * step / 6) for step in range(6, -7, -1)]


def _coil(values: Sequence[float], style: str) -> str:
    """A spiral from a small hub out to the radius."""
    x, y, radius, turns = values
    steps = int(turns * 24)
    points = [polar((x, y), radius * (0.2 + 0.8 * step / steps), 15 * step) for step in range(steps + 1)]
    return path(points, style or "thin")


def _snail(values: Sequence[float], style: str) -> str:
    """A cam whose equal steps fall from the largest radius to the smallest, anticlockwise from twelve o'clock: it turns clockwise, with the hour hand."""
    x, y, largest, smallest, steps = values
    return _cam([x, y, 0.0, *(largest - (largest - smallest) * step / (steps - 1) for step in reversed(range(int(steps))))], style)


def _cam(values: Sequence[float], style: str) -> str:
    """A stepped cam: from the angle `turn` on, clockwise, as many steps of equal width as radii."""
    x, y, turn, *radii = values
    wide = 360 / len(radii)
    points = [polar((x, y), radius, turn + (step + part / 6) * wide) for step, radius in enumerate(radii) for part in range(7)]
    return path(points, style or "paper", closed=True)


def _star(values: Sequence[float], style: str) -> str:
    """A wheel of long points, `inner` being the radius between them; one point stands at the angle `turn`."""
    x, y, radius, inner, count, turn = values
    points = [polar((x, y), inner if step % 2 else radius, turn + step * 180 / count) for step in range(2 * int(count))]
    return path(points, style or "paper", closed=True)


def _rack(values: Sequence[float], style: str) -> str:
    """A piece of a toothed rim, from one angle to another."""
    x, y, radius, start, end, teeth = values
    step, points = (end - start) / teeth, []
    for tooth in range(int(teeth)):
        points += [polar((x, y), radius - 4, start + tooth * step), polar((x, y), radius, start + tooth * step), polar((x, y), radius - 4, start + (tooth + 1) * step)]
    inner = [polar((x, y), radius - 11, angle) for angle in (end, (start + end) / 2, start)]
    return path([*points, *inner], style or "paper", closed=True)


def _ring(values: Sequence[float], style: str) -> str:
    """A dial without hands: its edge and twelve marks."""
    x, y, radius = values
    marks = [line(polar((x, y), radius * 0.86, angle), polar((x, y), radius * 0.96, angle), "thin") for angle in range(0, 360, 30)]
    return circle((x, y), radius, style or "paper") + "".join(marks)


def _dial(values: Sequence[float], style: str) -> str:
    """A dial with its hands at ten past ten."""
    x, y, radius = values
    hands = line((x, y), polar((x, y), radius * 0.5, -55), "thick") + line((x, y), polar((x, y), radius * 0.76, 60), "line")
    return _ring(values, style) + hands + circle((x, y), 2, "solid")


def _hole(values: Sequence[float], style: str) -> str:
    """A winding hole with its square."""
    x, y = values
    return circle((x, y), 6, "paper") + rectangle(x - 2.5, y - 2.5, 5, 5, "solid")


def _bell(values: Sequence[float], style: str) -> str:
    """A bell from the side, its rim at y."""
    x, y, radius = values
    dome = f"M{number(x - radius)} {number(y)}A{number(radius)} {number(radius)} 0 0 1 {number(x + radius)} {number(y)}Z"
    return f'<path class="paper" d="{dome}"/>' + circle((x, y - radius - 2), 2, "solid")


def _count(values: Sequence[float], style: str) -> str:
    x, y, radius = values
    return outline((x, y), radius, HOURS) + circle((x, y), 3, "solid")


_SHAPES: dict[str, Callable[[Sequence[float], str], str]] = {
    "line": _line, "shape": _shape, "curve": _curve, "circle": _circle, "dot": _dot, "box": _box, "arc": _arc, "wheel": _wheel,
    "ratchet": _ratchet, "points": _points, "clubs": _clubs, "geneva": _geneva, "coil": _coil, "snail": _snail, "cam": _cam, "star": _star, "rack": _rack, "ring": _ring, "dial": _dial, "hole": _hole, "bell": _bell, "count": _count,
}
