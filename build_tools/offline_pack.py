"""Many pages of one site as one small file: what they have in common is kept once.

A pack is JSON: ``pieces`` are the lines and the links of all pages, each kept once, and ``pages`` say for each path which pieces
follow one another, such as ``0-45 612 46-98``. Compressed, that takes a third less than the pages themselves.
``docs/js/offline-pack.js`` puts a page together again.
"""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterable, Mapping

_PIECE = re.compile(r"<a [^>]*>|[^<\n]*\n|(?:[^<\n]|<(?!a ))+\n?")


def pack(texts: Mapping[str, str]) -> bytes:
    """The compressed pack of texts by path; the same texts give the same bytes."""
    numbers: dict[str, int] = {}
    pages = {path: _written(numbers.setdefault(piece, len(numbers)) for piece in pieces(text)) for path, text in sorted(texts.items())}
    plain = json.dumps({"pieces": list(numbers), "pages": pages}, ensure_ascii=False, separators=(",", ":"))
    return gzip.compress(plain.encode(), compresslevel=9, mtime=0)


def pieces(text: str) -> list[str]:
    """The text cut at line ends and around links; joined it is the text again."""
    return _PIECE.findall(text)


def _written(numbers: Iterable[int]) -> str:
    """Numbers in order, runs of consecutive ones as ``first-last``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return " ".join(str(first) if first == last else f"{first}-{last}" for first, last in runs)
