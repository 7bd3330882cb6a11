"""The trade's words as a SKOS concept scheme in JSON-LD, for thesauri and catalogues (W3C Recommendations of 2009 and 2020)."""
from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from build_tools.library import Library
from build_tools.plain_text import plain

if TYPE_CHECKING:
    from build_tools.model import Term

LICENCE = "https://creativecommons.org/licenses/by/4.0/"
_SCHEME = "../terms/"  # addresses are relative to the file, so that they hold wherever the site stands
_LANGUAGE_MAPS = ("prefLabel", "altLabel", "hiddenLabel", "definition", "scopeNote", "title")
_LINKS = ("broader", "related", "inScheme", "topConceptOf", "hasTopConcept")
_CONTEXT = {
    "skos": "http://www.w3.org/2004/02/skos/core#",
    "dct": "http://purl.org/dc/terms/",
    "title": {"@id": "dct:title", "@container": "@language"},
    "license": {"@id": "dct:license", "@type": "@id"},
    **{name: {"@id": f"skos:{name}", "@container": "@language"} for name in _LANGUAGE_MAPS if name != "title"},
    **{name: {"@id": f"skos:{name}", "@type": "@id"} for name in _LINKS},
}


def words_as_skos(library: Library) -> str:
    """The scheme, its topics as top concepts, and each word that is not retired below its topic."""
    topics = library.table("topics")
    words = [term for term in library.of_kind("term") if term.status != "retired"]
    scheme = {
        "@id": _SCHEME, "@type": "skos:ConceptScheme", "title": {"en": "Words of the clock movement"}, "license": LICENCE,
        "hasTopConcept": [_topic_id(row.name) for row in topics],
    }
    tops = [{"@id": _topic_id(row.name), "@type": "skos:Concept", "prefLabel": {"en": row.says}, "topConceptOf": _SCHEME, "inScheme": _SCHEME} for row in topics]
    return json.dumps({"@context": _CONTEXT, "@graph": [scheme, *tops, *(_concept(term, library) for term in words)]}, ensure_ascii=False, indent=1)


def _concept(term: Term, library: Library) -> dict[str, Any]:
    languages = term.languages.words if term.languages else {}
    american = {"en-US": list(term.american)} if term.american else {}
    more = {code: list(words[1:]) for code, words in languages.items() if words[1:]}
    filled = {
        "prefLabel": {"en": term.word, **{code: words[0] for code, words in languages.items() if words}},
        "altLabel": {**_english(term.also, term), **american, **more},
        "hiddenLabel": _english((*term.plain, *term.asked), term),
        "definition": {"en": plain(term.definition)},
        "scopeNote": {"en": plain(term.note)} if term.note else {},
        "related": [_concept_id(ref) for ref in term.see if ref.startswith("term:") and ref in library],
    }
    return {"@id": _concept_id(term.ref), "@type": "skos:Concept", "inScheme": _SCHEME, "broader": _topic_id(term.topic), **{name: value for name, value in filled.items() if value}}


def _english(names: Iterable[str], term: Term) -> dict[str, list[str]]:
    """Names but the word itself, which is the preferred label and must not be another."""
    listed = [name for name in dict.fromkeys(names) if name != term.word]
    return {"en": listed} if listed else {}


def _concept_id(ref: str) -> str:
    return f"{_SCHEME}{ref.partition(':')[2]}/"


def _topic_id(name: str) -> str:
    return f"{_SCHEME}by-topic/#{name}"
