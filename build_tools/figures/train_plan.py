"""A wheelwork seen along its arbors, the pitch circles in true proportion, ready to be set in motion."""
from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape

from build_tools.figures import labels
from build_tools.figures.planting import ANGLES, Disc, Planting, Stand, escape_radius, extent, modules, planting, scale
from build_tools.figures.svg import WIDTH, Point, circle, drawing, group, line, link, number, path, polar, rectangle, ring, text
from build_tools.figures.wheelwork import Axle, Wheelwork, sentence

MARGIN = 4
LINES = 15  # px from one line of a label to the next
BEYOND = 16.0  # modules from the rim of a contrate wheel to the wheel on the arbor across
SPOKES = 5
DEEPEST = 9.0  # px from root to tip: coarse teeth are drawn low, so that the pitch circle stays what is seen first
LEGS = 7  # an escape wheel with fewer teeth is drawn as legs
TOUCH = 12.0  # px: the least radius at which a wheel answers a touch
SPOKED = 13.0  # px of radius from which a wheel shows its spokes


@dataclass(frozen=True)
class _Sheet:
    """The drawing area: pixels a module and where the first arbor stands."""

    scale: float
    left: float
    top: float
    height: float

    def at(self, stand: Stand) -> Point:
        return (stand.x - self.left) * self.scale + MARGIN, (stand.y - self.top) * self.scale + MARGIN


def plan(work: Wheelwork, name: str, title: str, says: str, addresses: Mapping[str, str]) -> str:
    """SVG of the plan; `addresses` leads from an arbor's name to the page of its word."""
    planted = planting(work)
    sheet = _sheet(work, planted)
    return drawing(name, title, says, (WIDTH, sheet.height), [*_arbors(work, planted, sheet, addresses), *_labels(work, planted, sheet, addresses)], "train plan")


def blank(work: Wheelwork, name: str, title: str) -> str:
    """The plan with a number at each arbor in place of its name and teeth, in the order of the count."""
    planted = planting(work)
    sheet = _sheet(work, planted)
    middles = _middles(work, planted, sheet)
    if work.concentric:  # two arbors on one line: the second number stands beside the first
        middles[work.concentric[1]] = middles[work.concentric[1]][0] + 24, middles[work.concentric[1]][1]
    numbers = [group([circle((x, y), 10, "paper"), text((x, y + 5), str(place + 1), "count")]) for place, (x, y) in sorted(middles.items())]
    says = f"{len(numbers)} arbors are numbered, to be named, and their teeth to be counted."
    return drawing(name, title, says, (WIDTH, sheet.height), [*_arbors(work, planted, sheet, None), *numbers], "train plan")


def _arbors(work: Wheelwork, planted: Planting, sheet: _Sheet, addresses: Mapping[str, str] | None) -> list[str]:
    """All arbors with their wheels; without addresses nothing of them is told."""
    told = {place: _Told() if addresses is None else _Told(sentence(work, axle), addresses.get(axle.name, "")) for place, axle in enumerate(work.axles)}
    wheels = [_wheel(work, place, stand, planted, sheet, told[place]) for place, stand in planted.stands.items()]
    return wheels + [_across(work, place, planted, sheet, told[place]) for place in planted.across]


@dataclass(frozen=True)
class _Told:
    """What the drawing tells of an arbor: its sentence, and the address of its word."""

    says: str = ""
    href: str = ""


def _middles(work: Wheelwork, planted: Planting, sheet: _Sheet) -> dict[int, Point]:
    """Where each arbor stands on the drawing; one that lies across, where its wheel is."""
    ends = {place: _end_across(work, place, planted) for place in planted.across}
    return {place: sheet.at(stand) for place, stand in {**planted.stands, **ends}.items()}


def _sheet(work: Wheelwork, planted: Planting) -> _Sheet:
    around = dict(planted.stands)
    for place in planted.across:
        around[place] = _end_across(work, place, planted)
    left, top, right, bottom = extent(around)
    fitting = scale(around)
    margin = (WIDTH - 2 * MARGIN) / fitting - (right - left)
    return _Sheet(fitting, left - margin / 2, top, max(60.0, (bottom - top) * fitting + 2 * MARGIN))


def _way_across(work: Wheelwork, place: int, planted: Planting) -> float:
    """The direction, in degrees, in which an arbor that lies across finds most room; straight up unless that is taken."""
    def crowd(degrees: float) -> float:
        x, y = _towards(work, place, planted, degrees)
        reach = max(escape_radius(work.axles[place].escape), 6.0)
        others = [stand for index, stand in planted.stands.items() if index != work.axles[place].by]
        return sum(max(0.0, reach + max(disc.radius for disc in other.discs) - math.hypot(other.x - x, other.y - y)) for other in others)

    return min(ANGLES, key=lambda degrees: (round(crowd(degrees) + min(degrees, 360 - degrees) / 20, 6), degrees))


def _towards(work: Wheelwork, place: int, planted: Planting, degrees: float) -> Point:
    """Where the wheel of an arbor across stands when that arbor points in a direction."""
    contrate = planted.stands[work.axles[place].by or 0]
    return polar((contrate.x, contrate.y), contrate.discs[-1].radius + BEYOND, degrees)


def _end_across(work: Wheelwork, place: int, planted: Planting) -> Stand:
    """The end of an arbor that lies across, as a disc as wide as its wheel."""
    x, y = _towards(work, place, planted, _way_across(work, place, planted))
    return Stand(x, y, (Disc(max(escape_radius(work.axles[place].escape), 6.0), 1, 1.0, 0, -1),))


def _wheel(work: Wheelwork, place: int, stand: Stand, planted: Planting, sheet: _Sheet, told: _Told) -> str:
    """One arbor with all that turns with it."""
    axle = work.axles[place]
    parts = [_disc(disc, _phase(work, place, disc, planted), sheet.scale) for disc in sorted(stand.discs, key=lambda disc: -disc.radius)]
    if axle.pins:
        parts.append(_pins(axle, stand, sheet.scale))
    reach = max([disc.radius for disc in stand.discs], default=0.0) * sheet.scale
    spin = group([*parts, circle((0, 0), 1.6, "solid")], "spin")
    return _arbor(work, place, [spin], "arbor", told, reach, _moved(sheet.at(stand)))


def _moved(point: Point) -> str:
    return f"translate({number(point[0])} {number(point[1])})"


def _arbor(work: Wheelwork, place: int, parts: Sequence[str], style: str, told: _Told, reach: float, transform: str, away: float = 0.0) -> str:
    """The group of one arbor with what the page's script needs: its rate, its sentence, its word, and where it may be touched (so far above its middle)."""
    axle = work.axles[place]
    rate = f"{axle.rate.numerator}/{axle.rate.denominator}"
    word = f' data-word="{escape(told.href)}"' if told.href else ""
    title = f"<title>{escape(told.says, quote=False)}</title>" if told.says else ""
    off = f' data-away="{number(away)}"' if away else ""
    more = f'data-place="{place}" data-rate="{rate}" data-reach="{number(max(reach, TOUCH))}"{off}{word} transform="{transform}"'
    return group([title, *parts], style, more)


def _disc(disc: Disc, phase: float, unit: float) -> str:
    radius = disc.radius * unit
    if disc.mesh < 0:
        return _escape_wheel(disc, unit)
    deep = min(2 * disc.module * unit, DEEPEST)
    teeth = ring((0, 0), radius, disc.teeth, "teeth")[:-2] + f' stroke-width="{number(deep)}" stroke-dashoffset="{number(-phase * disc.teeth / 180 % 2)}"/>'
    root = circle((0, 0), max(0.5, radius - deep / 2), "line")
    return teeth + root + circle((0, 0), radius, "pitch") + _spokes(radius - deep / 2, disc)


def _spokes(radius: float, disc: Disc) -> str:
    """Rim and crossings, where there is room to see them; a pinion stays solid."""
    if radius < SPOKED:
        return ""
    rim, hub = radius - max(2.0, 1.6 * disc.module), max(3.0, radius * 0.16)
    spokes = [line(polar((0, 0), hub, 360 / SPOKES * n), polar((0, 0), rim, 360 / SPOKES * n), "thin") for n in range(SPOKES)]
    return circle((0, 0), rim, "thin") + circle((0, 0), hub, "thin") + "".join(spokes)


def _escape_wheel(disc: Disc, unit: float) -> str:
    """Pointed teeth that lean forwards, as many as the wheel has; very few are long legs."""
    outer, inner, step = disc.radius * unit, disc.radius * unit * 0.8, 360 / disc.teeth
    if disc.teeth < LEGS:
        return "".join(line((0, 0), polar((0, 0), outer, leg * step), "thick escape") for leg in range(disc.teeth))
    points: list[Point] = []
    for tooth in range(disc.teeth):
        points += [polar((0, 0), inner, tooth * step), polar((0, 0), outer, (tooth + 0.55) * step), polar((0, 0), inner, (tooth + 0.6) * step)]
    return path(points, "line escape", closed=True) + circle((0, 0), inner * 0.82, "thin")


def _pins(axle: Axle, stand: Stand, unit: float) -> str:
    """Lifting pins on the side of the arbor's wheel, or on a circle of their own."""
    radius = max([disc.radius for disc in stand.discs], default=12.0) * unit * 0.8
    return group([circle(polar((0, 0), radius, 360 / axle.pins * pin), 1.6, "pin") for pin in range(axle.pins)], "pins")


def _phase(work: Wheelwork, place: int, disc: Disc, planted: Planting) -> float:
    """Degrees by which a driven disc is turned so that its gaps meet the teeth of its driver."""
    by = work.axles[place].by
    if by is None or disc.mesh != by or by not in planted.stands:
        return 0.0
    here, there = planted.stands[place], planted.stands[by]
    towards = math.degrees(math.atan2(here.y - there.y, here.x - there.x))
    of_tooth = work.axles[by].wheel * towards / 360 % 1
    return (towards + 180 + of_tooth * 360 / disc.teeth) % 360


def _across(work: Wheelwork, place: int, planted: Planting, sheet: _Sheet, told: _Told) -> str:
    """An arbor at right angles to the rest, seen from its side: pinion over the contrate wheel's rim, its own wheel beyond."""
    axle, unit = work.axles[place], sheet.scale
    contrate = planted.stands[axle.by or 0]
    rim = contrate.discs[-1].radius * unit
    half, wheel, far = axle.driven * modules(work)[axle.by or 0] / 2 * unit, escape_radius(axle.escape) * unit, rim + BEYOND * unit
    parts = [
        line((0, 6 * unit - rim), (0, -far - 4 * unit)),
        rectangle(-half, -rim - 3 * unit, 2 * half, 6 * unit, "paper"), _edge(axle.driven, half, -rim - 3 * unit, 6 * unit),
        rectangle(-wheel, -far - 2 * unit, 2 * wheel, 4 * unit, "paper"), _edge(axle.escape, wheel, -far - 2 * unit, 4 * unit),
    ]
    transform = f"{_moved(sheet.at(contrate))} rotate({_way_across(work, place, planted)})"
    return _arbor(work, place, parts, "arbor across", told, max(wheel, half), transform, far)


def _edge(teeth: int, half: float, top: float, high: float) -> str:
    """The teeth of a wheel seen from its edge, those on the near side as short lines; the script moves them as the wheel turns."""
    turns_ = [2 * math.pi * tooth / teeth for tooth in range(teeth)]
    near = [half * math.sin(turn) for turn in turns_ if math.cos(turn) > 1e-9]
    d = "".join(f"M{number(x)} {number(top)}v{number(high)}" for x in near)
    return f'<path class="thin edge" data-teeth="{teeth}" data-half="{number(half)}" data-top="{number(top)}" data-high="{number(high)}" d="{d}"/>' if teeth else ""


def _labels(work: Wheelwork, planted: Planting, sheet: _Sheet, addresses: Mapping[str, str]) -> list[str]:
    """Name and teeth at each arbor, where there is room for them."""
    points = _middles(work, planted, sheet)
    lines = {place: [work.axles[place].name, counts(work.axles[place])] for place in points}
    places = sorted(points)
    choices = [[labels.box(middle, lines[place]) for middle in _around(points[place])] for place in places]
    chosen = labels.settle(choices, (WIDTH, sheet.height)) or [0] * len(places)
    return [_label(choices[n][chosen[n]], lines[place], addresses.get(work.axles[place].name, "")) for n, place in enumerate(places)]


def _around(point: Point) -> list[Point]:
    """Middles of a label near a point, the dearest first."""
    x, y = point
    aside = [(0, 20), (0, -20), (34, 0), (-34, 0), (26, 22), (-26, 22), (26, -22), (-26, -22), (0, 36), (0, -36), (52, 0), (-52, 0), (44, 34), (-44, 34),
             (44, -34), (-44, -34), (0, 52), (0, -52), (70, 20), (-70, 20), (70, -20), (-70, -20)]
    return [(x + dx, y + dy) for dx, dy in aside]


def _label(at: labels.Box, lines: Sequence[str], href: str) -> str:
    x, top = (at.left + at.right) / 2, at.top
    return link(href, [text((x, top + 12), lines[0], "name")], "part") + text((x, top + 12 + LINES), lines[1], "count")


def counts(axle: Axle) -> str:
    """The teeth of an arbor in a few signs: what is driven, then what drives."""
    drives = [str(teeth) for teeth in (axle.wheel, axle.escape) if teeth]
    return " · ".join([str(axle.driven)] * bool(axle.driven) + drives) or "–"
