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
    """SVG of the chart, WIDTH wide, as high as it needs; colours come from the classes of its parts."""
    placed = _place(rungs)
    height = placed[-1].top + placed[-1].height + 1
    lanes = "".join(_lane(box, placed[box.rung.above]) for box in placed if box.rung.above >= 0)
    boxes = "".join(_box(box) for box in placed)
    return (f'<svg class="ladder" viewBox="0 0 {WIDTH} {height}" role="group" aria-label="{escape(title)}">'
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


def _lane(box: _Placed, above: _Placed) -> str:
    across = above.left + STEP // 2
    return f'<path d="M{across} {above.top + above.height}V{box.middle}H{box.left}"/>'


def _box(box: _Placed) -> str:
    rung = box.rung
    first = box.middle - (len(box.answer) + len(box.text)) * LINE // 2 + LINE - 5
    lines = [("answer", line) for line in box.answer] + [("", line) for line in box.text]
    spans = "".join(_span(style, line, box.left + PADDING, first + LINE * place) for place, (style, line) in enumerate(lines))
    rect = f'<rect x="{box.left}" y="{box.top}" width="{WIDTH - box.left - 1}" height="{box.height}"/>'
    return f'<a id="{rung.anchor}" class="{"end" if rung.end else "asks"}" href="{escape(rung.href)}">{rect}<text>{spans}</text></a>'


def _span(style: str, line: str, x: int, y: int) -> str:
    named = f' class="{style}"' if style else ""
    return f'<tspan{named} x="{x}" y="{y}">{escape(line)} </tspan>'
