"""The knowledge base for other programs: one JSON file of all entries, a list of them and the counts as CSV, the words as SKOS."""

from __future__ import annotations

import csv
import dataclasses
import io
import json
from collections.abc import Iterable, Sequence
from typing import Any

from build_tools.library import Library
from build_tools.render.kinds import SECTIONS
from build_tools.render.skos import words_as_skos


LICENCE = "CC-BY-4.0"


def exports(library: Library) -> dict[str, str]:
    """Path and text of each file to download."""
    return {"download/entries.json": _entries(library), "download/entries.csv": _list(library), "download/counts.csv": _counts(library), "download/words.jsonld": words_as_skos(library)}


def _entries(library: Library) -> str:
    entries = {entry.ref: _filled(entry) for kind in SECTIONS for entry in library.of_kind(kind)}
    return json.dumps({"licence": LICENCE, "entries": entries}, ensure_ascii=False, indent=1, default=str)


def _filled(value: Any) -> Any:
    """Plain data without the fields that stand empty."""
    if dataclasses.is_dataclass(value):
        pairs = ((field.name, _filled(getattr(value, field.name))) for field in dataclasses.fields(value))
        return {name.rstrip("_"): part for name, part in pairs if part not in (None, "", (), [], {})}
    if isinstance(value, (list, tuple)):
        return [_filled(part) for part in value]
    return {str(key): _filled(part) for key, part in value.items()} if hasattr(value, "items") else value


def _list(library: Library) -> str:
    """One line an entry: its id, what it is called, how far it has been looked over."""
    return _table(["id", "name", "status"], ([entry.ref, entry.name, entry.status] for kind in SECTIONS for entry in library.of_kind(kind)))


def _counts(library: Library) -> str:
    """One line an arbor, so that a spreadsheet can take any count apart."""
    columns = ["count", "of", "arbor", "pinion", "driven", "wheel", "escape", "pins", "driven_by", "turns_once_in", "turns"]
    return _table(columns, ([count.id, count.of, arbor.name, *(getattr(arbor, name, None) for name in columns[3:])] for count in library.of_kind("count") for arbor in count.arbors))


def _table(columns: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """CSV with its head; the last column is the licence, since a sheet travels without this page."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([*columns, "licence"])
    writer.writerows([*row, LICENCE] for row in rows)
    return text.getvalue()
