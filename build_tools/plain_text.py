"""Prose of an entry as mere words, for wherever nothing can be linked."""
from __future__ import annotations

import re

REFERENCE = re.compile(r"\[\[([a-z]+:[a-z0-9-]+)(?:\|([^\]]+))?\]\]")
"""A reference within prose: `[[kind:id]]` or `[[kind:id|words]]`."""


def plain(text: str) -> str:
    """The prose with each reference replaced by its words, or by its id where it has none."""
    return REFERENCE.sub(lambda found: found[2] or found[1].partition(":")[2].replace("-", " "), text)


def plain_line(text: str) -> str:
    """The same in one line."""
    return " ".join(plain(text).split())
