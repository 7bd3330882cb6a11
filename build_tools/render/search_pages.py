"""The search's index made small: one record a page, with its names and the beginning of its text."""

from __future__ import annotations

import html
import json
import re
from typing import Any

MOST = 240  # characters of a page's text that the search looks through and shows
_TAG = re.compile(r"<[^>]+>")


def page_records(index: dict[str, Any], most: int = MOST) -> str:
    """The index as JSON text; ``most`` is how many characters of text each page keeps, none for an index of names."""
    pages: dict[str, dict[str, Any]] = {}
    for doc in index["docs"]:
        page = doc["location"].split("#")[0]
        if page == doc["location"]:
            pages[page] = {**doc, "text": _plain(doc["text"])}
        elif page in pages:
            pages[page]["text"] += f" {_plain(doc['title'])}: {_plain(doc['text'])}"
    kept = pages.values() if most else map(_title_alone, pages.values())
    docs = [{**page, "text": html.escape(_cut(page["text"], most), quote=False)} for page in kept]
    return json.dumps({**index, "docs": docs}, ensure_ascii=False, separators=(",", ":"))


def _title_alone(page: dict[str, Any]) -> dict[str, Any]:
    """A page that isn't a term's goes by its title, and need not say its words twice."""
    return page if "word" in page else {name: value for name, value in page.items() if name != "names"}


def _plain(text: str) -> str:
    return " ".join(html.unescape(_TAG.sub(" ", text)).split())


def _cut(text: str, most: int) -> str:
    """At most so many characters, ending with a whole word."""
    return text if len(text) <= most else text[: most + 1].rpartition(" ")[0]
