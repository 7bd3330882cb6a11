"""What the search needs beyond the pages: each word's other names, shown beside its title and found before anything else."""

from __future__ import annotations

from typing import Any

from build_tools.library import Library
from build_tools.model import Term
from build_tools.render.kinds import page_path


def search_entries(library: Library) -> dict[str, dict[str, Any]]:
    """For the address of each term what replaces or joins its record in the search index.

    Names of one word become tags, which the search weighs far above titles: whoever types "gear" is led to the
    word that is called just that, and only then to those with a gear in a longer name. The search doesn't tell
    "gears" from "gear", so a plural is no tag where the singular names another word.
    """
    terms = library.of_kind("term")
    single = {name for term in terms for name in _single(term)}
    return {
        page_path(term.ref).removesuffix(".md") + "/": {
            "title": _title(term),
            "tags": [name for name in _single(term) if name.removesuffix("s") not in single - {name}],
        }
        for term in terms
    }


def _single(term: Term) -> list[str]:
    return [name.lower() for name in (term.word, *_others(term)) if len(name.split()) == 1]


def _others(term: Term) -> list[str]:
    return [name for name in dict.fromkeys((*term.plain, *term.also, *term.american)) if name != term.word]


def _title(term: Term) -> str:
    word, others = term.word[0].upper() + term.word[1:], _others(term)
    return f"{word} ({', '.join(others)})" if others else word
