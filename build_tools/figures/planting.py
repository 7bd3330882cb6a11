"""Where the arbors of a wheelwork stand: pitch circles that mesh touch, and nothing collides that would not collide in a clock.

Lengths are in modules of the finest mesh. A disc is a wheel, pinion or escape wheel in one of the planes between the plates. The rules:
no arbor passes through a disc of another, whatever its plane; discs in one plane that do not mesh stay at least two modules apart.
"""
from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from build_tools.figures.svg import WIDTH
from build_tools.figures.wheelwork import Wheelwork

PLANES = 3  # wheels that follow one another stand in turn in these
CLEAR = 2.0  # modules between discs of one plane
ANGLES = tuple(range(0, 360, 15))  # degrees from twelve o'clock at which an arbor may stand from its driver
KEPT = 10  # arrangements carried on from arbor to arbor
TALL = 1.2  # height of the drawing over its width at which a train may stand straight up


@dataclass(frozen=True)
class Disc:
    """One wheel or pinion: its pitch radius, teeth, module, plane, and the mesh it belongs to (the driver's place; -1 for none)."""

    radius: float
    teeth: int
    module: float
    plane: int
    mesh: int


@dataclass(frozen=True)
class Stand:
    """One arbor where it stands, with its discs."""

    x: float
    y: float
    discs: tuple[Disc, ...]


@dataclass(frozen=True)
class Planting:
    """All arbors in the order of the wheelwork; `across` are those that lie at right angles to the rest and are not planted."""

    stands: dict[int, Stand]
    across: tuple[int, ...]


def modules(work: Wheelwork) -> dict[int, float]:
    """The module of each mesh by its driver's place: 1, and coarser wherever room needs it, which as a rule is towards the power."""
    found = {place: 1.0 for place, axle in enumerate(work.axles) if axle.wheel}
    if work.concentric:
        first, last = work.concentric
        middle = work.axles[last].by or 0
        found[first] = (work.axles[middle].wheel + work.axles[last].driven) / (work.axles[first].wheel + work.axles[middle].driven)
        return found
    for _ in work.axles * 4:
        found = {place: max([module, *_needed(work, place, found)]) for place, module in found.items()}
    return found


def _needed(work: Wheelwork, place: int, found: dict[int, float]) -> Iterator[float]:
    """The modules that keep the arbors of each mesh of a wheel clear of one another's discs."""
    axle = work.axles[place]
    own = axle.driven * found[axle.by] / 2 if axle.by is not None else 0.0
    for child in work.children(place):
        reach = max(own, largest(work, child, found))
        if reach:
            yield (reach + CLEAR) / ((axle.wheel + work.axles[child].driven) / 2)


def largest(work: Wheelwork, place: int, found: dict[int, float]) -> float:
    """The radius of the wheel or escape wheel on an arbor, apart from what is driven there."""
    axle = work.axles[place]
    return max(axle.wheel * found.get(place, 1.0) / 2, escape_radius(axle.escape))


def escape_radius(teeth: int) -> float:
    """Escape wheels have few, wide teeth, so that their size does not follow from the number: one module a tooth, within limits."""
    return min(22.0, max(13.0, float(teeth))) if teeth else 0.0


def discs(work: Wheelwork, place: int, found: dict[int, float]) -> tuple[Disc, ...]:
    """All discs of one arbor."""
    axle, depth, made = work.axles[place], work.depth(place), []
    if axle.by is not None:
        made.append(Disc(axle.driven * found[axle.by] / 2, axle.driven, found[axle.by], (depth - 1) % PLANES, axle.by))
    if axle.wheel:
        made.append(Disc(axle.wheel * found[place] / 2, axle.wheel, found[place], depth % PLANES, place))
    if axle.escape:
        made.append(Disc(escape_radius(axle.escape), axle.escape, 1.0, depth % PLANES, -1))
    return tuple(made)


@lru_cache(maxsize=512)
def planting(work: Wheelwork) -> Planting:
    """The most compact arrangement found: arbor by arbor, the best few of all angles are carried on."""
    found = modules(work)
    across = tuple(place for place, axle in enumerate(work.axles) if axle.by is not None and work.axles[axle.by].contrate)
    order = sorted((place for place in range(len(work.axles)) if place not in across), key=lambda place: (work.depth(place), place))
    kept: list[dict[int, Stand]] = [{order[0]: Stand(0.0, 0.0, discs(work, order[0], found))}]
    for place in order[1:]:
        made = discs(work, place, found)
        grown = [{**stands, place: stand} for stands in kept for stand in _candidates(work, place, made, stands) if _fits(stand, place, stands, work)]
        kept = sorted(grown, key=_cost)[:KEPT]
    return Planting(kept[0], across)


def _candidates(work: Wheelwork, place: int, made: tuple[Disc, ...], stands: dict[int, Stand]) -> Iterator[Stand]:
    driver = stands[work.axles[place].by or 0]
    if work.concentric and place == work.concentric[1]:
        first = stands[work.concentric[0]]
        yield Stand(first.x, first.y, made)
        return
    driving = next(disc for disc in driver.discs if disc.mesh == work.axles[place].by and disc.teeth == work.axles[work.axles[place].by or 0].wheel)
    away = driving.radius + made[0].radius
    for degrees in ANGLES:
        turned = math.radians(degrees)
        yield Stand(driver.x + away * math.sin(turned), driver.y - away * math.cos(turned), made)


def _fits(stand: Stand, place: int, stands: dict[int, Stand], work: Wheelwork) -> bool:
    return all(
        apart(stand, other) or {place, index} == set(work.concentric or ())
        for index, other in stands.items()
    )


def apart(one: Stand, other: Stand) -> bool:
    """Whether two arbors keep the rules towards each other."""
    distance = math.hypot(one.x - other.x, one.y - other.y)
    if any(disc.radius >= distance for disc in (*one.discs, *other.discs)):
        return False
    return all(
        distance >= first.radius + second.radius + CLEAR - 1e-9
        for first in one.discs for second in other.discs
        if first.plane == second.plane and (first.mesh != second.mesh or first.mesh < 0)
    )


def extent(stands: dict[int, Stand]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all discs."""
    edges = [(stand.x, stand.y, max((disc.radius for disc in stand.discs), default=1.0)) for stand in stands.values()]
    return (min(x - r for x, _, r in edges), min(y - r for _, y, r in edges), max(x + r for x, _, r in edges), max(y + r for _, y, r in edges))


def _cost(stands: dict[int, Stand]) -> tuple[float, float]:
    """How large the drawing gets; then how far the last arbor stands from straight above the first."""
    left, top, right, bottom = extent(stands)
    crowded = sum(max(0.0, 34 - math.hypot(a.x - b.x, a.y - b.y)) for i, a in stands.items() for j, b in stands.items() if i < j) / 10
    last, first = stands[max(stands)], stands[min(stands)]
    upside_down = max(0.0, last.y - first.y) / 3
    return round(max((right - left) * TALL, bottom - top) + crowded + upside_down, 6), round(last.y - first.y + abs(last.x - first.x) / 10, 6)


def scale(stands: dict[int, Stand], width: float = WIDTH - 8) -> float:
    """Pixels a module at which the planting fits the width and the usual height."""
    left, top, right, bottom = extent(stands)
    return min(width / (right - left), width * TALL / (bottom - top))
