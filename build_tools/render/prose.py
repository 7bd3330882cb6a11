"""Prose of an entry turned into Markdown: plain text in, references made into links."""

from __future__ import annotations

import re
from collections.abc import Callable

from build_tools.plain_text import REFERENCE

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>|~^])")
_LINE_START = re.compile(r"^(\s*)([#=]|\+\s|\d+[.)]\s)", re.MULTILINE)


def escape(text: str) -> str:
    """Plain text with every sign that Markdown would act on made harmless."""
    text = _SPECIAL.sub(r"\\\1", text.replace("&", "&amp;")).replace("\\<", "&lt;").replace("\\>", "&gt;")
    return _LINE_START.sub(lambda found: found[1] + "\\" + found[2] if found[2][0] in "#=+" else found[0], text)


def prose(text: str, link: Callable[[str, str], str]) -> str:
    """Markdown of a prose field; ``link(ref, words)`` makes the links for ``[[kind:id]]`` and ``[[kind:id|words]]``."""
    done, parts = 0, []
    for found in REFERENCE.finditer(text):
        parts.append(escape(text[done : found.start()]))
        parts.append(link(found[1], found[2] or ""))
        done = found.end()
    return ("".join(parts) + escape(text[done:])).strip()
