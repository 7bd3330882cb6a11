"""The schemas in kb/schema: which kinds there are, and what a schema says of each text in an entry.

Four words of our own stand in the schemas beside those of JSON Schema draft 7:
`x-prose` (the text stands as a block and may hold links), `x-ref` (a reference to one of these kinds; none named: to any),
`x-ref-keys` (the same of a group's field names), `x-row` (a row of this constant table), and `x-wanted` (what a pattern asks for, in words).
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Iterator

from build_tools.accept import Accepts, acceptor
from build_tools.loaded import DataPath

SCHEMA_FOLDER = Path(__file__).resolve().parent.parent / "kb" / "schema"
FOLDERS = {
    "term": "terms",
    "train": "trains",
    "addon": "addons",
    "feature": "features",
    "symptom": "symptoms",
    "count": "counts",
    "question": "questions",
    "calculation": "calculations",
    "constant": "constants",
    "melody": "melodies",
    "saying": "sayings",
    "measure": "measures",
    "lesson": "lessons",
    "sheet": "sheets",
    "plate": "plates",
    "caution": "cautions",
    "source": "sources",
}
KIND_OF_FOLDER = {folder: kind for kind, folder in FOLDERS.items()}


@cache
def schema(kind: str) -> dict[str, Any]:
    """The schema of a kind with every `$ref` written out, so that validating follows no references."""
    return _written_out(_read(kind))


@cache
def is_right(kind: str) -> Accepts:
    """What says yes to the data of entries of a kind that plainly follow its schema; a no decides nothing."""
    return acceptor(schema(kind))


@cache
def _read(name: str) -> dict[str, Any]:
    return json.loads((SCHEMA_FOLDER / f"{name}.json").read_text(encoding="utf-8"))


def _written_out(part: Any) -> Any:
    if isinstance(part, list):
        return [_written_out(item) for item in part]
    if not isinstance(part, dict):
        return part
    if "$ref" in part:
        file, _, pointer = part["$ref"].partition("#/definitions/")
        return _written_out(_read(file.removesuffix(".json"))["definitions"][pointer])
    return {key: _written_out(value) for key, value in part.items()}


@dataclass(frozen=True, slots=True)
class Mark:
    """What a schema says of one text: `prose`; `ref` the kinds it may refer to (None: no reference; empty: any kind); `row` the table."""

    prose: bool = False
    ref: tuple[str, ...] | None = None
    row: str = ""


@dataclass(slots=True)
class _Node:
    """A part of a schema, cut down to the branches that lead to marked texts."""

    mark: Mark | None = None
    key_mark: Mark | None = None
    fields: dict[str, _Node] = field(default_factory=dict)
    rest: _Node | None = None
    items: _Node | None = None

    def __bool__(self) -> bool:
        return bool(self.mark or self.key_mark or self.fields or self.rest or self.items)


def marked_texts(kind: str, data: dict[str, Any]) -> Iterator[tuple[DataPath, str, Mark]]:
    """Every prose text, reference and table row in an entry's data, with its path; a marked field name has the path of its field."""
    yield from _walk(_marks(kind), data, ())


@cache
def _marks(kind: str) -> _Node:
    return _node(schema(kind))


def _node(part: Any) -> _Node:
    node = _Node()
    if not isinstance(part, dict):
        return node
    for branch in [*part.get("allOf", ()), part.get("then"), part.get("else")]:
        _merge(node, _node(branch))
    if "x-prose" in part or "x-ref" in part or "x-row" in part:
        node.mark = Mark(part.get("x-prose", False), tuple(part["x-ref"]) if "x-ref" in part else None, part.get("x-row", ""))
    if "x-ref-keys" in part:
        node.key_mark = Mark(ref=tuple(part["x-ref-keys"]))
    fields = {name: _node(inner) for name, inner in part.get("properties", {}).items()}
    node.fields |= {name: inner for name, inner in fields.items() if inner}
    node.rest = _node(part.get("additionalProperties")) or node.rest
    node.items = _node(part.get("items")) or node.items
    return node


def _merge(node: _Node, other: _Node) -> None:
    node.mark = node.mark or other.mark
    node.fields |= other.fields
    node.rest = node.rest or other.rest
    node.items = node.items or other.items


def _walk(node: _Node, value: Any, path: DataPath) -> Iterator[tuple[DataPath, str, Mark]]:
    if isinstance(value, str):
        if node.mark:
            yield path, value, node.mark
    elif isinstance(value, dict):
        for key, inner in value.items():
            if node.key_mark:
                yield path + (key,), key, node.key_mark
            below = node.fields.get(key) or node.rest
            if below:
                yield from _walk(below, inner, path + (key,))
    elif isinstance(value, list) and node.items:
        for index, inner in enumerate(value):
            yield from _walk(node.items, inner, path + (index,))
