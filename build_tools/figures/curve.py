"""Curves with axes, round figures on them, and units; several lines may share one pair of axes."""
from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from build_tools.figures.labels import cut, spread
from build_tools.figures.svg import WIDTH, Point, circle, drawing, group, line, path, text, text_width

TOP, BOTTOM, RIGHT = 34.0, 214.0, 316.0  # px: the edges of the field
TALL = 258
SMALL = 12
STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
STYLES = ("line accent", "line", "thin", "broken", "thick")


@dataclass(frozen=True)
class Axis:
    """What is measured along an axis, its unit, and the marks as (value, text) where they are not plain numbers."""

    label: str
    unit: str = ""
    marks: tuple[tuple[float, str], ...] = ()

    @property
    def words(self) -> str:
        return f"{self.label}, {self.unit}" if self.unit else self.label

    @property
    def lines(self) -> list[str]:
        """The words in lines that fit the drawing."""
        return cut(self.words, WIDTH - 8, SMALL)


@dataclass(frozen=True)
class Line:
    """One curve through its points, or the points alone as `dots`; `name` stands at its end where there are several."""

    points: tuple[Point, ...]
    name: str = ""
    dots: bool = False


def marks(least: float, most: float, about: int = 5) -> list[tuple[float, str]]:
    """Round values from one end of an axis to the other, with their texts."""
    if most <= least:
        most = least + 1
    raw = (most - least) / about
    size = 10.0 ** math.floor(math.log10(raw))
    step = next(factor * size for factor in STEPS if factor * size >= raw * 0.999)
    places = max(0, -math.floor(math.log10(step) + 1e-9) + (1 if abs(step / 10 ** math.floor(math.log10(step)) - 2.5) < 1e-9 else 0))
    first = math.ceil(least / step - 1e-9)
    return [(n * step, _figure(n * step, places)) for n in range(first, math.floor(most / step + 1e-9) + 1)]


def _figure(value: float, places: int) -> str:
    shown = f"{abs(value):,.{places}f}"
    return ("−" if value < 0 and float(shown.replace(",", "")) else "") + shown


def curve(name: str, title: str, says: str, across: Axis, up: Axis, lines: Sequence[Line]) -> str:
    """SVG of the lines in one field."""
    xs, ys = [x for each in lines for x, _ in each.points], [y for each in lines for _, y in each.points]
    low, high = _room(min(ys), max(ys))
    up_marks = list(up.marks) or marks(low, high)
    left = 14 + max(text_width(words, SMALL) for _, words in up_marks)
    right = RIGHT - (max(text_width(each.name, SMALL) for each in lines) if len(lines) > 1 else 0)
    field = _Field(min(xs), max(xs), low, high, left, right)
    above, below = up.lines, across.lines
    parts = [*_across(field, across), *_up(field, up_marks)]
    parts += [text((4, TOP - 16 - 13 * (len(above) - 1 - place)), words, "small", "start") for place, words in enumerate(above)]
    parts += [text((_inside((left + right) / 2, words), TALL - 6 + 13 * place), words, "small") for place, words in enumerate(below)]
    drawn = [_drawn(each, field, STYLES[place % len(STYLES)]) for place, each in enumerate(lines)]
    return drawing(name, title, says, (WIDTH, TALL + 13 * (len(below) - 1)), [*parts, *drawn, *(_ends(field, lines) if len(lines) > 1 else [])], "curve")


def _drawn(each: Line, field: _Field, style: str) -> str:
    points = [field.at(point) for point in each.points]
    return group([circle(point, 3, "solid") for point in points], "dots") if each.dots else path(points, style)


def _room(low: float, high: float) -> tuple[float, float]:
    """The range up the side: the curve's own, down to nought where that is near."""
    if low == high:
        return low - 1, high + 1
    return (0.0 if 0 < low < (high - low) * 2 else low), (0.0 if 0 > high > (low - high) * 2 else high)


@dataclass(frozen=True)
class _Field:
    x_low: float
    x_high: float
    y_low: float
    y_high: float
    left: float
    right: float

    def at(self, point: Point) -> Point:
        return (
            self.left + (point[0] - self.x_low) / (self.x_high - self.x_low) * (self.right - self.left),
            BOTTOM - (point[1] - self.y_low) / (self.y_high - self.y_low) * (BOTTOM - TOP),
        )


def _across(field: _Field, axis: Axis) -> list[str]:
    chosen = list(axis.marks) or marks(field.x_low, field.x_high)
    parts = [line((field.left, BOTTOM), (field.right, BOTTOM))]
    for value, words in chosen:
        x = field.at((value, field.y_low))[0]
        parts += [line((x, BOTTOM), (x, BOTTOM + 4)), text((_inside(x, words), BOTTOM + 18), words, "small soft")]
    return parts


def _inside(x: float, words: str) -> float:
    """The middle of a line of letters, moved so far that it stays within the drawing."""
    half = text_width(words, SMALL) / 2
    return min(max(x, half), WIDTH - half)


def _up(field: _Field, chosen: Sequence[tuple[float, str]]) -> list[str]:
    parts = [line((field.left, TOP), (field.left, BOTTOM))]
    for value, words in chosen:
        y = field.at((field.x_low, value))[1]
        parts += [line((field.left, y), (field.right, y), "hair"), text((field.left - 5, y + 4), words, "small soft", "end")]
    return parts


def _ends(field: _Field, lines: Sequence[Line]) -> list[str]:
    """The names of the lines at their right ends, moved apart."""
    ends = sorted((field.at(each.points[-1])[1], each.name) for each in lines)
    rows = spread([y for y, _ in ends], 15, TOP, BOTTOM)
    return [
        group([circle((field.right, y), 1.5, "solid"), text((field.right + 4, row + 4), name, "small", "start")])
        for (y, name), row in zip(ends, rows)
    ]
