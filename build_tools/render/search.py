"""What the search looks through: every name that a page goes by, and apart from that the words of its text.

``search/names.json`` comes with a first visit; ``search/text.json`` comes with the rest and says what each page is about, and what
pages there are of the kinds that are seldom asked for.
The matching itself stands in ``docs/js/search.js`` alone.
"""

from __future__ import annotations

import hashlib
import json
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from build_tools.library import Library
from build_tools.model import Saying
from build_tools.plain_text import plain
from build_tools.render.kinds import SECTIONS
from build_tools.render.saying import VERDICTS

NAMES, TEXT = "search/names.json", "search/text.json"
SHOWN = 150  # characters of a page's beginning that stand below its title
TOO_COMMON = 0.2  # a word in the text of more than this share of all pages tells none from another
_KEY, _PAGE = "key", "page"
_LATER = ("count", "source")  # kinds that nobody misses on a first visit without reception
_WEIGHT = {"count": 0.8, "source": 0.7, "constant": 0.85, "question": 0.9, "plate": 0.9, "melody": 0.95}
_MARKUP = re.compile(r"^# .*?$|^```.*?^```|<[^>]*>|\]\([^)]*\)|\{[^}]*\}|\[\[[a-z]+:|[\[\]#*`|]", re.MULTILINE | re.DOTALL)
_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)?")


@dataclass(frozen=True)
class Record:
    """One page: its kind, its address below the folder of the kind, its names (the title first), what people type who want it, its texts."""

    kind: str
    id: str
    names: tuple[str, ...]
    asked: tuple[str, ...] = ()
    texts: tuple[str, ...] = ()


def search_files(library: Library) -> dict[str, str]:
    """Both files by path. The texts stand in the order of the names, and each file carries the edition that it belongs to."""
    records = sorted([*_key_pages(library), *_other_pages(library), *_entries(library)], key=lambda record: record.kind in _LATER)
    rows = [_row(list(_kinds()).index(record.kind), record) for record in records]
    first = sum(record.kind not in _LATER for record in records)
    edition = hashlib.sha256("".join(f"{record.kind}:{record.id}\n" for record in records).encode()).hexdigest()[:8]
    names = {"edition": edition, "kinds": list(_kinds().values()), "pages": rows[:first]}
    return {NAMES: _written(names), TEXT: _written({"edition": edition, "more": rows[first:], "pages": _texts(records)})}


def _kinds() -> dict[str, dict[str, Any]]:
    """For each kind what it is called, the folder of its pages, and what a find there is worth."""
    called = {kind: (section.one, f"{section.folder}/") for kind, section in SECTIONS.items()} | {_KEY: ("key", "key/"), _PAGE: ("page", "")}
    return {kind: {"name": name, "folder": folder, "weight": _WEIGHT.get(kind, 1)} for kind, (name, folder) in called.items()}


def _row(kind: int, record: Record) -> list[Any]:
    """Kind, title, other names, what is asked, address; the end is left out where it is empty or follows from the title."""
    title, *others = record.names
    row = [kind, title, "|".join(others), "|".join(record.asked)]
    if record.id != _slug(title):
        return [*row, record.id]
    while not row[-1]:
        row.pop()
    return row


def _slug(title: str) -> str:
    """The address that the script makes of a title: its words without accents, joined."""
    plain_letters = unicodedata.normalize("NFKD", title.lower().replace("’", "").replace("'", ""))
    return "-".join(re.findall(r"[a-z0-9]+", "".join(sign for sign in plain_letters if not unicodedata.combining(sign))))


def _entries(library: Library) -> Iterator[Record]:
    for kind in SECTIONS:
        for entry in library.of_kind(kind):
            if entry.status != "retired":
                texts = [plain(text) for _, text, mark in library.marked(entry.ref) if mark.prose]
                if isinstance(entry, Saying):
                    texts.insert(0, f"{VERDICTS[entry.verdict]} {plain(entry.why)}")
                yield Record(kind, entry.id, _names(entry), _asked(entry), tuple(" ".join(text.split()) for text in texts))


def _names(entry: Any) -> tuple[str, ...]:
    """The title, then every other name once: synonyms, plain words, other languages."""
    title = entry.name[:1].upper() + entry.name[1:]
    languages = getattr(entry, "languages", None)
    foreign = [word for words in languages.words.values() for word in words] if languages else []
    others = [name for field in ("also", "american", "plain") for name in getattr(entry, field, ())]
    seen: dict[str, str] = {}
    for name in (title, *others, *foreign):
        seen.setdefault(name.lower(), name)
    return tuple(seen.values())


def _asked(entry: Any) -> tuple[str, ...]:
    names = {name.lower() for name in _names(entry)}
    return tuple(asked for asked in entry.asked if asked.lower() not in names)


def _key_pages(library: Library) -> Iterator[Record]:
    for row in library.table("facets"):
        yield Record(_KEY, row.name, (row.says,), row.also, ("Question by question to: " + "; ".join(entry.name for entry in library.outcomes(row.name)),))


def _other_pages(library: Library) -> Iterator[Record]:
    for row in library.table("pages-beside-entries"):
        written = library.root / "docs" / f"{row.name}.md"
        yield Record(_PAGE, row.name, (row.says,), row.also, _by_hand(written.read_text(encoding="utf-8")) if written.is_file() else ())


def _by_hand(markdown: str) -> tuple[str, ...]:
    """The description in the head of a page written by hand, where it has one, and its text."""
    head = re.match(r"---\n(.*?)\n---\n", markdown, re.DOTALL)
    said = re.search(r"^description: (.*)$", head[1], re.MULTILINE) if head else None
    text = _MARKUP.sub(" ", markdown[head.end() :] if head else markdown)
    return tuple(" ".join(part.split()) for part in (said[1] if said else "", text) if part)


def _texts(records: list[Record]) -> list[list[str]]:
    """For each page what is shown of it, and the words that its names and that sentence don't have."""
    words = [_words(record.texts) for record in records]
    common = Counter(word for found in words for word in found)
    most = TOO_COMMON * len(records)
    rows = []
    for record, found in zip(records, words):
        shown = _cut(record.texts[0]) if record.texts else ""
        known = _words((shown, *record.names, *record.asked))
        rows.append([shown, " ".join(word for word in found if word not in known and common[word] <= most)])
    return rows


def _words(texts: Iterable[str]) -> dict[str, None]:
    return dict.fromkeys(word for text in texts for word in _WORD.findall(text.lower()) if len(word) > 2)


def _cut(text: str) -> str:
    """At most so many characters, ending with a whole word."""
    return text if len(text) <= SHOWN else text[: SHOWN + 1].rpartition(" ")[0] + " …"


def _written(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
