"""Pages written by hand in docs/: the same references as in entries, and cautions in full where they are wanted."""

from __future__ import annotations

import re

from build_tools.library import Library
from build_tools.problem import did_you_mean
from build_tools.render.view import View

_PIECE = re.compile(
    r"(?P<code>^```.*?^```|`[^`\n]*`)"
    r"|^\[\[(?P<alone>caution:[a-z0-9-]+)\]\]$"
    r"|\[\[(?P<ref>[a-z]+:[a-z0-9-]+)(?:\|(?P<words>[^\]]+))?\]\]",
    re.MULTILINE | re.DOTALL,
)


class UnknownReference(ValueError):
    """A page refers to an entry that is not there; the sentence says where, and what to do."""


def filled(markdown: str, path: str, library: Library) -> str:
    """The page at ``path`` below the docs folder with ``[[kind:id|words]]`` made into links, code left alone.

    A caution that stands on a line of its own is written out in full.
    """
    view = View(library, path)
    return _PIECE.sub(lambda found: _written(found, view), markdown)


def _written(found: re.Match[str], view: View) -> str:
    ref = found["alone"] or found["ref"]
    if found["code"]:
        return found[0]
    if ref not in view.library:
        kind, _, id = ref.partition(":")
        known = [entry.id for entry in view.library.of_kind(kind)]
        raise UnknownReference(f"docs/{view.path}: no entry called {ref}; {did_you_mean(id, known, 'correct the reference')}")
    return view.cautions([ref]) if found["alone"] else view.link(ref, found["words"] or "")
