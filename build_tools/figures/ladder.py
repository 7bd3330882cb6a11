"""A chart in one column for a narrow screen: every box a link, its branches drawn in a gutter at the left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from textwrap import wrap

WIDTH = 328  # px: what a phone of 360 leaves; the text is drawn for this width
FONT = 15  # px
LETTER = 0.53  # of the font size, a cautious average for text faces
LINE = 19
STEP = 13  # how far each level stands in
PADDING = 9
GAP = 8
LEAST = 48  # px: what a thumb hits
COLUMN = 1350  # px: what a third of a printed sheet holds with letters of 8 points


@dataclass(frozen=True)
class Rung:
    """One box: the answer that leads to it, what it says, where it links; ``above`` counts from 0, -1 for the first."""

    anchor: str
    answer: str
    text: str
    href: str
    depth: int
    above: int
    end: bool


@dataclass(frozen=True)
class _Placed:
    rung: Rung
    answer: tuple[str, ...]
    text: tuple[str, ...]
    top: int
    height: int

    @property
    def left(self) -> int:
        return self.rung.depth * STEP + 1

    @property
    def middle(self) -> int:
        return self.top + self.height // 2


def ladder(rungs: Sequence[Rung], title: str) -> str:
    """SVG of the chart, WIDTH wide; colours come from the classes of its parts.

    A long chart is cut between boxes into parts, which follow one another on a screen and stand side by side on a sheet.
    """
    placed = _place(rungs)
    cuts = _cuts(placed)
    parts = [_part(placed, top, below, f"{title}, part {number}") for number, (top, below) in enumerate(zip(cuts, cuts[1:]), 1)]
    return f'<div class="ladder">{"".join(parts)}</div>'


def _cuts(placed: Sequence[_Placed]) -> list[int]:
    """Heights at which the chart is cut, the first and last included; the parts are about alike."""
    whole = placed[-1].top + placed[-1].height + 1
    parts = -(-whole // COLUMN)
    edges = [box.top - GAP // 2 for box in placed[1:]]
    inner = {min(edges, key=lambda edge: abs(edge - whole * part / parts)) for part in range(1, parts)}
    return [0, *sorted(inner), whole]


def _part(placed: Sequence[_Placed], top: int, below: int, title: str) -> str:
    lanes = "".join(_lane(box, placed[box.rung.above], top, below) for box in placed if box.rung.above >= 0)
    boxes = "".join(_box(box, top) for box in placed if top <= box.top < below)
    return (f'<svg viewBox="0 0 {WIDTH} {below - top}" role="group" aria-label="{escape(title)}">'
            f'<g class="lanes" aria-hidden="true">{lanes}</g>{boxes}</svg>')


def _place(rungs: Sequence[Rung]) -> list[_Placed]:
    placed, top = [], 1
    for rung in rungs:
        letters = int((WIDTH - rung.depth * STEP - 2 * PADDING) / (FONT * LETTER))
        answer, text = tuple(wrap(rung.answer, letters)), tuple(wrap(rung.text, letters))
        height = max(LEAST, (len(answer) + len(text)) * LINE + 2 * PADDING)
        placed.append(_Placed(rung, answer, text, top, height))
        top += height + GAP
    return placed


def _lane(box: _Placed, above: _Placed, top: int, below: int) -> str:
    """The piece of the line from the box above that lies between two heights."""
    start, end = max(above.top + above.height, top), min(box.middle, below)
    if start >= end:
        return ""
    foot = f"H{box.left}" if box.middle < below else ""
    return f'<path d="M{above.left + STEP // 2} {start - top}V{end - top}{foot}"/>'


def _box(box: _Placed, top: int) -> str:
    rung, middle = box.rung, box.middle - top
    first = middle - (len(box.answer) + len(box.text)) * LINE // 2 + LINE - 5
    lines = [("answer", line) for line in box.answer] + [("", line) for line in box.text]
    spans = "".join(_span(style, line, box.left + PADDING, first + LINE * place) for place, (style, line) in enumerate(lines))
    rect = f'<rect x="{box.left}" y="{box.top - top}" width="{WIDTH - box.left - 1}" height="{box.height}"/>'
    return f'<a id="{rung.anchor}" class="{"end" if rung.end else "asks"}" href="{escape(rung.href)}">{rect}<text>{spans}</text></a>'


def _span(style: str, line: str, x: int, y: int) -> str:
    named = f' class="{style}"' if style else ""
    return f'<tspan{named} x="{x}" y="{y}">{escape(line)} </tspan>'
