"""The site's picture on a phone's home screen: a plain dial with two hands, drawn into a PNG by code.

The shapes are those of ``docs/favicon.svg``, in units of its 32 by 32 square.
"""

from __future__ import annotations

import math
import struct
import zlib
from collections.abc import Callable, Iterator

Colour = tuple[int, int, int]
Span = tuple[float, float]
Shape = Callable[[float], Iterator[Span]]  # from a height to the stretches that are covered there

UNITS, FINENESS = 32.0, 4  # size of the drawing; lines looked at in each row of dots
PAPER, INK, ACCENT = (251, 249, 244), (34, 33, 30), (31, 92, 77)


def icon(size: int, scale: float = 1.0) -> bytes:
    """A PNG of ``size`` by ``size`` dots; a ``scale`` below one keeps the dial clear of a mask that cuts the corners."""
    drawn: list[tuple[Shape, Colour]] = [
        (_ring(12.0, 14.0, scale), INK),
        (_hand((0.0, 0.0), (0.0, -9.0), 1.25, scale), ACCENT),
        (_hand((0.0, 0.0), (5.0, 4.0), 1.25, scale), ACCENT),
    ]
    rows = []
    for row in range(size):
        dots = [PAPER] * size
        for shape, colour in drawn:
            _blend(dots, _coverage(shape, row, size), colour)
        rows.append(b"\0" + bytes(part for dot in dots for part in dot))
    return _png(size, b"".join(rows))


def _ring(inner: float, outer: float, scale: float) -> Shape:
    def spans(y: float) -> Iterator[Span]:
        far, near = _half_chord(outer * scale, y), _half_chord(inner * scale, y)
        if far:
            yield from ((-far, -near), (near, far)) if near else ((-far, far),)
    return spans


def _half_chord(radius: float, y: float) -> float:
    return math.sqrt(radius * radius - y * y) if abs(y) < radius else 0.0


def _hand(start: Span, end: Span, half_width: float, scale: float) -> Shape:
    """A stroke with round ends: at each height what lies within ``half_width`` of the line."""
    (x1, y1), (x2, y2), reach = ((start[0] * scale, start[1] * scale), (end[0] * scale, end[1] * scale), half_width * scale)
    length = math.hypot(x2 - x1, y2 - y1)
    steps = max(2, int(length / reach * 8))
    middles = [(x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps) for step in range(steps + 1)]

    def spans(y: float) -> Iterator[Span]:
        chords = [(x, half) for x, middle in middles if (half := _half_chord(reach, y - middle))]
        if chords:
            yield min(x - half for x, half in chords), max(x + half for x, half in chords)
    return spans


def _coverage(shape: Shape, row: int, size: int) -> dict[int, float]:
    """How much of each dot in a row a shape covers, from 0 to 1."""
    covered: dict[int, float] = {}
    for line in range(FINENESS):
        y = (row + (line + 0.5) / FINENESS) * UNITS / size - UNITS / 2
        for left, right in shape(y):
            start, end = ((edge + UNITS / 2) * size / UNITS for edge in (left, right))
            for dot in range(max(0, int(start)), min(size, math.ceil(end))):
                covered[dot] = covered.get(dot, 0.0) + (min(end, dot + 1) - max(start, dot)) / FINENESS
    return covered


def _blend(dots: list[Colour], covered: dict[int, float], colour: Colour) -> None:
    for dot, share in covered.items():
        below = dots[dot]
        dots[dot] = tuple(round(old + (new - old) * share) for old, new in zip(below, colour, strict=True))  # type: ignore[assignment]


def _png(size: int, rows: bytes) -> bytes:
    head = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in parts)
