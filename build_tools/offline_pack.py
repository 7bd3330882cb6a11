"""Many pages of one site as one small file: what they have in common is kept once.

A pack begins with a line of JSON that says for each path which pieces follow one another, such as ``0-45 612 46-98``. Then come the pieces,
parted by a zero: the lines and the links of all pages, each kept once. It is compressed here, once, since not every web server compresses what it sends, and
as LZMA, which ``docs/js/lzma.js`` unpacks: that takes a quarter less than gzip. ``docs/js/offline-pack.js`` puts a page together again.
"""

from __future__ import annotations

import json
import lzma
import re
from collections.abc import Iterable, Mapping

_PIECE = re.compile(r"<a [^>]*>|[^<\n]*\n|(?:[^<\n]|<(?!a ))+\n?")


_SMALLEST, _QUICK = 9 | lzma.PRESET_EXTREME, 2  # the whole site takes six seconds less to pack, and 0.3 MB more
_BETWEEN = "\0"
_HEADER = 13  # bytes: five of settings, eight of the size


def pack(texts: Mapping[str, str]) -> bytes:
    """The compressed pack of texts by path; the same texts give the same bytes."""
    numbers: dict[str, int] = {}
    pages = {path: _written(numbers.setdefault(piece, len(numbers)) for piece in pieces(text)) for path, text in sorted(texts.items())}
    return _packed(list(numbers), pages, _QUICK)


def small_pack(texts: Mapping[str, str]) -> bytes:
    """The same for a few texts, as small as can be: each is a piece of its own, since so near together the compression finds more to share."""
    paths = sorted(texts)
    return _packed([texts[path] for path in paths], {path: str(number) for number, path in enumerate(paths)}, _SMALLEST)


def _packed(pieces: list[str], pages: Mapping[str, str], effort: int) -> bytes:
    """An LZMA file whose header says how large it is when unpacked; text has no rows of words or numbers, hence ``pb`` 0."""
    plain = f"{json.dumps(pages, ensure_ascii=False, separators=(',', ':'))}\n{_BETWEEN.join(pieces)}".encode()
    settings = [{"id": lzma.FILTER_LZMA1, "preset": effort, "lc": 3, "lp": 0, "pb": 0}]
    made = lzma.compress(plain, format=lzma.FORMAT_ALONE, filters=settings)
    return made[:5] + len(plain).to_bytes(8, "little") + made[_HEADER:]


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
