"""A wheelwork seen from the side, laid out in a line: each mesh in the height at which its pitch circles touch, wheels edge on."""
from __future__ import annotations

from collections.abc import Mapping

from build_tools.figures.labels import spread
from build_tools.figures.planting import PLANES, escape_radius, modules
from build_tools.figures.svg import WIDTH, circle, drawing, group, line, link, path, rectangle, text
from build_tools.figures.train_plan import counts
from build_tools.figures.wheelwork import Wheelwork

FRONT, BACK = 18.0, 200.0  # px: the inner faces of the plates
THICK = 5  # of a plate
FIRST, STEP = 46.0, 52.0  # px: where the planes of the wheels stand
WHEEL, PINION = 6.0, 22.0  # px along the arbor
NAMES = 216.0  # px: where the column of names begins
ROW = 32.0
TALLEST = 380.0
BETWEEN_PLATES = ("going", "strike", "chime", "alarm")


def elevation(work: Wheelwork, of: str, name: str, title: str, says: str, addresses: Mapping[str, str]) -> str:
    """SVG of the elevation; `of` is what the train does: dial work stands before one plate, trains stand between two."""
    heights, found = _heights(work), modules(work)
    reach = {place: _reach(work, place, found) for place in heights}
    top, bottom = min(heights[p] - reach[p] for p in heights), max(heights[p] + reach[p] for p in heights)
    unit = min(2.0, TALLEST / (bottom - top))
    ys = {place: (height - top) * unit + 14 for place, height in heights.items()}
    tall = max((bottom - top) * unit, ROW * len(work.axles)) + 44
    arbors = [_arbor(work, place, ys, unit, of) for place in sorted(heights)]
    return drawing(name, title, says, (WIDTH, tall), [_plates(of, tall), *arbors, *_names(work, ys, tall, addresses)], "train elevation")


def _heights(work: Wheelwork) -> dict[int, float]:
    """The height of each arbor in modules, growing downwards; a branch hangs down from its driver, concentric arbors are level."""
    found = modules(work)
    heights: dict[int, float] = {}
    for place in sorted(range(len(work.axles)), key=work.depth):
        axle = work.axles[place]
        if axle.by is None:
            heights[place] = 0.0
        elif work.concentric and place == work.concentric[1]:
            heights[place] = heights[work.concentric[0]]
        elif work.axles[axle.by].contrate:
            heights[place] = heights[axle.by] - work.axles[axle.by].wheel * found[axle.by] / 2 - escape_radius(work.axles[place].escape) / 2 - 8
        else:
            away = (work.axles[axle.by].wheel + axle.driven) * found[axle.by] / 2
            heights[place] = heights[axle.by] + (away if place != min(work.children(axle.by)) else -away)
    return heights


def _reach(work: Wheelwork, place: int, found: dict[int, float]) -> float:
    axle = work.axles[place]
    if axle.by is not None and work.axles[axle.by].contrate:
        return 6.0
    driven = axle.driven * found[axle.by] / 2 if axle.by is not None else 0.0
    return max(driven, axle.wheel * found.get(place, 0.0) / 2, escape_radius(axle.escape), 3.0)


def _plane(depth: int, of: str) -> float:
    """Trains begin behind the front plate, dial work begins close before its plate."""
    place = depth % PLANES
    return FIRST + STEP * (place if of in BETWEEN_PLATES else PLANES - 1 - place)


def _plates(of: str, tall: float) -> str:
    """Two plates with the front one at the left; dial work has one, at the right of it."""
    bottom = tall - 26
    if of in BETWEEN_PLATES:
        fronts = [rectangle(FRONT - THICK, 4, THICK, bottom - 4, "deep"), rectangle(BACK, 4, THICK, bottom - 4, "deep")]
        return group([*fronts, text((FRONT - THICK - 12, tall - 8), "front", "small soft", "start"), text((BACK + THICK + 12, tall - 8), "back", "small soft", "end")])
    return group([rectangle(BACK, 4, THICK, bottom - 4, "deep"), text((FRONT - 12, tall - 8), "dial side", "small soft", "start"),
                  text((BACK + THICK + 12, tall - 8), "plate", "small soft", "end")])


def _arbor(work: Wheelwork, place: int, ys: Mapping[int, float], unit: float, of: str) -> str:
    axle, depth, found = work.axles[place], work.depth(place), modules(work)
    if axle.by is not None and work.axles[axle.by].contrate:
        return _arbor_across(work, place, ys, unit, of)
    y, parts = ys[place], []
    inner = work.concentric is not None and place == work.concentric[0]
    start = FRONT - THICK if of in BETWEEN_PLATES else FRONT - (14 if inner else 0)
    is_pipe = work.concentric is not None and place == work.concentric[1]
    parts.append(rectangle(start, y - 3, _plane(depth - 1, of) - start, 6, "paper") if is_pipe else line((start, y), (BACK + THICK, y), "line"))
    if axle.driven and axle.by is not None:
        parts.append(_edge(axle.driven * found[axle.by] / 2 * unit, _plane(depth - 1, of), y, PINION if axle.leaves else WHEEL, axle.driven if axle.leaves else 0))
    if axle.wheel:
        parts.append(_edge(axle.wheel * found[place] / 2 * unit, _plane(depth, of), y, WHEEL, 0))
    if axle.escape:
        parts.append(_edge(escape_radius(axle.escape) * unit, _plane(depth, of), y, WHEEL - 2, 0))
    if axle.pins:
        parts += _pins(axle.wheel * found.get(place, 1.0) / 2 * unit or 20.0, _plane(depth, of), y)
    return group(parts, "arbor", f'data-place="{place}"')


def _edge(radius: float, x: float, y: float, width: float, leaves: int) -> str:
    """A wheel edge on, or a pinion with its leaves as lines along the arbor."""
    shown = [line((x - width / 2, y + radius * part), (x + width / 2, y + radius * part), "thin") for part in (-0.6, 0.0, 0.6)] if leaves else []
    return rectangle(x - width / 2, y - radius, width, 2 * radius, "paper") + "".join(shown)


def _pins(radius: float, x: float, y: float) -> list[str]:
    """Lifting pins stand out from the side of their wheel."""
    return [line((x + WHEEL / 2, y + side * radius * 0.8), (x + WHEEL / 2 + 9, y + side * radius * 0.8), "thick") for side in (-1, 1)]


def _arbor_across(work: Wheelwork, place: int, ys: Mapping[int, float], unit: float, of: str) -> str:
    """The arbor of a crown wheel stands upright beside the teeth of the contrate wheel."""
    axle, found = work.axles[place], modules(work)
    by = axle.by or 0
    half = axle.driven * found[by] / 2 * unit
    x, rim, y = _plane(work.depth(by), of) + WHEEL / 2 + half, ys[by] - work.axles[by].wheel * found[by] / 2 * unit, ys[place]
    wheel = escape_radius(axle.escape) * unit
    return group([
        line((x, rim + 16), (x, y - 10)),
        rectangle(x - half, rim - 3, 2 * half, 14, "paper"),
        rectangle(x - wheel, y - 3, 2 * wheel, 7, "paper"),
    ], "arbor", f'data-place="{place}"')


def _names(work: Wheelwork, ys: Mapping[int, float], tall: float, addresses: Mapping[str, str]) -> list[str]:
    """Names in a column beside the back plate, each with a line to its arbor."""
    order = sorted(ys, key=lambda place: (ys[place], place))
    rows = spread([ys[place] for place in order], ROW, 14, tall - 40)
    return [_name(work, place, ys[place], row, addresses) for place, row in zip(order, rows)]


def _name(work: Wheelwork, place: int, y: float, row: float, addresses: Mapping[str, str]) -> str:
    axle = work.axles[place]
    leader = path([(BACK + THICK, y), (NAMES - 4, row)], "thin") + circle((BACK + THICK, y), 1.2, "solid")
    words = link(addresses.get(axle.name, ""), [text((NAMES, row + 1), axle.name, "name", "start")], "part")
    return leader + words + text((NAMES, row + 15), counts(axle), "count soft", "start")
