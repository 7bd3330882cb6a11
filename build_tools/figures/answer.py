"""The small drawing beside an answer of the key: what would be seen, in a square of 96."""
from __future__ import annotations

from build_tools.figures.shapes import shape

SIDE = 96


def picture(shapes: str) -> str:
    """SVG of the shapes, for eyes alone: the answer's own words stand beside it."""
    parts = "".join(shape(words.strip()) for words in shapes.split(";"))
    return f'<svg class="drawing answer" viewBox="0 0 {SIDE} {SIDE}" aria-hidden="true" focusable="false">{parts}</svg>'
