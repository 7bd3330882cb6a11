"""What the search looks through: beside the pages' text every name that a word goes by.

Three fields are added to the search's own. ``word`` is the term itself, ``single`` holds its other names of one word,
and ``names`` every word of all its names once; for all other pages ``names`` is the title. So "gear" leads to the
term that is called just that before one with a gear in a longer name, and a long list of names earns no more than a short one.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from build_tools.library import Library
from build_tools.model import Term
from build_tools.render.kinds import page_path

FIELDS = {"title": 1.0, "text": 1.0, "names": 1000.0, "word": 3000.0, "single": 3000.0}


def search_index(index: dict[str, Any], library: Library) -> dict[str, Any]:
    """The builder's search index (``config`` and ``docs``) with the names of the terms put in."""
    terms = {page_path(term.ref).removesuffix(".md") + "/": term for term in library.of_kind("term")}
    single = {name for term in terms.values() for name in _single(term)}
    docs = [{**doc, **_added(doc, terms.get(doc["location"]), single)} for doc in index["docs"]]
    fields = {name: {"boost": boost} for name, boost in FIELDS.items()}
    return {"config": {**index["config"], "fields": fields}, "docs": docs}


def _added(doc: dict[str, Any], term: Term | None, single: set[str]) -> dict[str, Any]:
    if term is None:
        return {} if "#" in doc["location"] else {"names": _words([doc["title"]])}
    own = _single(term)
    longer = {name for name in own if any(name.startswith(other) for other in single.difference(own))}
    return {
        "title": _title(term),
        "names": _words([term.word, *_others(term)]),
        "word": _words([term.word]),
        "single": [name for name in own if name not in longer],  # the search takes "clockwork" for a rare sort of "clock"
    }


def _words(names: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(word for name in names for word in name.lower().replace("-", " ").split()))


def _single(term: Term) -> list[str]:
    return [name.lower() for name in (term.word, *_others(term)) if len(name.split()) == 1]


def _others(term: Term) -> list[str]:
    return [name for name in dict.fromkeys((*term.plain, *term.also, *term.american)) if name != term.word]


def _title(term: Term) -> str:
    word, others = term.word[0].upper() + term.word[1:], _others(term)
    return f"{word} ({', '.join(others)})" if others else word
