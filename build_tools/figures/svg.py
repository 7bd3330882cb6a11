"""The few marks of which every figure is made, as SVG text: no colours, no fonts, three stroke widths by class.

Lengths are CSS pixels at a screen 360 wide, where a figure is WIDTH across. Numbers are written with two decimals at most, so that
every machine writes the same bytes. The classes stand in docs/css/figures.css.
"""
from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape

WIDTH = 328
SIZE = 14  # of the letters
LETTER = 0.56  # of the size, a cautious average for sans-serif letters and figures
NARROW, MEAN, WIDE = 0.28, 0.55, 0.8  # of the size, by letter
Point = tuple[float, float]


def number(value: float) -> str:
    """The shortest text with at most two decimals."""
    text = f"{round(value, 2):.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def text_width(text: str, size: float = SIZE) -> float:
    """About how wide a line of letters is, never too little."""
    return len(text) * size * LETTER


def likely_width(text: str, size: float = SIZE) -> float:
    """How wide a line of letters comes out in most sans-serif faces."""
    return sum(NARROW if letter in "fijlrt’.,() " else WIDE if letter in "mwMW" else MEAN for letter in text) * size


def line(start: Point, end: Point, style: str = "line") -> str:
    (x1, y1), (x2, y2) = start, end
    return f'<path class="{style}" d="M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}"/>'


def path(points: Iterable[Point], style: str = "line", closed: bool = False) -> str:
    """A line through the points."""
    steps = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f'<path class="{style}" d="M{steps}{"Z" if closed else ""}"/>'


def rectangle(x: float, y: float, width: float, height: float, style: str = "line") -> str:
    return f'<rect class="{style}" x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"/>'


def circle(centre: Point, radius: float, style: str = "line") -> str:
    return f'<circle class="{style}" cx="{number(centre[0])}" cy="{number(centre[1])}" r="{number(radius)}"/>'


def ring(centre: Point, radius: float, count: int, style: str) -> str:
    """A circle cut into `count` equal strokes with gaps as long: teeth seen from the side of the wheel."""
    return circle(centre, radius, style)[:-2] + f' pathLength="{2 * count}" stroke-dasharray="1"/>'


def arc(centre: Point, radius: float, start: float, end: float, style: str = "line") -> str:
    """Part of a circle, from one angle to another in degrees, clockwise from twelve o'clock."""
    (x1, y1), (x2, y2) = polar(centre, radius, start), polar(centre, radius, end)
    large, way = int(abs(end - start) > 180), int(end > start)
    return f'<path class="{style}" d="M{number(x1)} {number(y1)}A{number(radius)} {number(radius)} 0 {large} {way} {number(x2)} {number(y2)}"/>'


def polar(centre: Point, radius: float, degrees: float) -> Point:
    """The point at an angle clockwise from twelve o'clock; y grows downwards."""
    turned = math.radians(degrees)
    return centre[0] + radius * math.sin(turned), centre[1] - radius * math.cos(turned)


def turned(point: Point, about: Point, degrees: float) -> Point:
    """A point after a turn, clockwise as seen."""
    angle = math.radians(degrees)
    x, y = point[0] - about[0], point[1] - about[1]
    return about[0] + x * math.cos(angle) - y * math.sin(angle), about[1] + x * math.sin(angle) + y * math.cos(angle)


def text(at: Point, words: str, style: str = "", anchor: str = "middle") -> str:
    """One line of selectable letters; `anchor` is start, middle or end."""
    named = f' class="{style}"' if style else ""
    placed = "" if anchor == "start" else f' text-anchor="{anchor}"'
    return f'<text{named}{placed} x="{number(at[0])}" y="{number(at[1])}">{escape(words, quote=False)}</text>'


def group(parts: Sequence[str] | str, style: str = "", more: str = "") -> str:
    """Parts in a `g`; `more` are further attributes as text."""
    named = f' class="{style}"' if style else ""
    return f"<g{named}{' ' + more if more else ''}>{''.join(parts)}</g>"


def link(href: str, parts: Sequence[str] | str, style: str = "") -> str:
    """Parts that lead to another page; without an address they stay as they are."""
    named = f' class="{style}"' if style else ""
    return f'<a{named} href="{escape(href)}">{"".join(parts)}</a>' if href else "".join(parts)


def drawing(name: str, title: str, says: str, size: Point, parts: Sequence[str], style: str = "") -> str:
    """The whole SVG with its title, and `says` as the same in words; `name` is unique on its page."""
    width, height = size
    return (
        f'<svg class="{f"drawing {style}".strip()}" viewBox="0 0 {number(width)} {number(height)}" role="group" aria-labelledby="{name}-title" '
        f'aria-describedby="{name}-says"><title id="{name}-title">{escape(title, quote=False)}</title>'
        f'<desc id="{name}-says">{escape(says, quote=False)}</desc>{"".join(parts)}</svg>'
    )
