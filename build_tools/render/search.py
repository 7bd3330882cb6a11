"""What the search needs beyond the pages: each word's other names beside its title."""

from __future__ import annotations

from build_tools.library import Library
from build_tools.model import Term
from build_tools.render.kinds import page_path


def search_titles(library: Library) -> dict[str, str]:
    """For the address of each term the title in the search: the word, then what else people call it."""
    return {page_path(term.ref).removesuffix(".md") + "/": _title(term) for term in library.of_kind("term")}


def _title(term: Term) -> str:
    others = [name for name in dict.fromkeys((*term.plain, *term.also, *term.american)) if name != term.word]
    word = term.word[0].upper() + term.word[1:]
    return f"{word} ({', '.join(others)})" if others else word
