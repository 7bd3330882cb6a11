"""Markdown tables in a frame that scrolls sideways when the screen is too narrow."""

from __future__ import annotations

from collections.abc import Sequence


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], label: str) -> str:
    """A table of Markdown cells; ``label`` names it to whoever doesn't see it, and is its own on each page."""
    lines = [_line(heads), _line(["---"] * len(heads)), *(_line(row) for row in rows)]
    return f'<div class="wide" tabindex="0" role="region" aria-label="{label}" markdown="1">\n\n' + "\n".join(lines) + "\n\n</div>\n"


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(" ".join(cell.split()) for cell in cells) + " |"
