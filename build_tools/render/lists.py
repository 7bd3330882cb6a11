"""Numbered lists whose items may hold anything, and may begin at any number."""

from __future__ import annotations

from collections.abc import Iterable


def numbered(items: Iterable[str], start: int = 1, kind: str = "steps") -> str:
    """An ordered list of Markdown items with the numbers from ``start`` on; ``kind`` is its class."""
    rows = "\n".join(f'<li markdown="block">\n\n{item}\n\n</li>' for item in items)
    return f'<ol class="{kind}" start="{start}" markdown="1">\n{rows}\n</ol>\n' if rows else ""
