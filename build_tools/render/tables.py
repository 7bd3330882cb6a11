"""Markdown tables in a frame that scrolls sideways when the screen is too narrow."""

from __future__ import annotations

from collections.abc import Sequence


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int] = (), label: str = "Table") -> str:
    """A table of Markdown cells; the columns numbered in ``right`` (from 0) are set flush right."""
    rule = ["---:" if number in right else "---" for number in range(len(heads))]
    lines = [_line(heads), _line(rule), *(_line(row) for row in rows)]
    return f'<div class="wide" tabindex="0" role="region" aria-label="{label}" markdown="1">\n\n' + "\n".join(lines) + "\n\n</div>\n"


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(" ".join(cell.split()) for cell in cells) + " |"
