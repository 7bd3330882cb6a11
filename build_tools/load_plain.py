"""A quick reading of files in which nothing is unusual: the data alone.

Places are wanted only for what is wrong, and nearly every file is right. Whatever this does not understand at once it leaves
to the careful reader in `load`, which knows every place and every refusal; a test compares the two.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any, Callable

import yaml
from yaml.events import AliasEvent, DocumentEndEvent, DocumentStartEvent, MappingEndEvent, MappingStartEvent
from yaml.events import ScalarEvent, SequenceEndEvent, StreamEndEvent, StreamStartEvent

from build_tools.loaded import Block

DEEPEST = 12
BLOCK_STYLES = frozenset("|>")
_WORDS = {"true": True, "false": False, "null": None, "": None}
_INTEGER = re.compile(r"(?:0|-?[1-9][0-9]{0,17})\Z")
_DECIMAL = re.compile(r"-?(?:0|[1-9][0-9]{0,17})\.[0-9]{1,40}\Z")


class _Unusual(Exception):
    """Something that the careful reader must look at."""


def plain_data(text: str) -> dict[str, Any] | None:
    """The data of an entry without anchors, tags, repeated fields and the like; None where there are any, or anything is wrong."""
    following = yaml.CSafeLoader(text).get_event
    try:
        _expect(StreamStartEvent, following())
        _expect(DocumentStartEvent, following())
        data = _value(following(), following, 0)
        _expect(DocumentEndEvent, following())
        _expect(StreamEndEvent, following())
    except (_Unusual, yaml.YAMLError):
        return None
    return data if isinstance(data, dict) else None


def _expect(kind: type, event: Any) -> None:
    if type(event) is not kind:
        raise _Unusual


def _value(event: Any, following: Callable[[], Any], depth: int) -> Any:
    kind = type(event)
    if kind is AliasEvent or event.anchor is not None or event.tag is not None:
        raise _Unusual
    if kind is ScalarEvent:
        return _scalar(event)
    if depth >= DEEPEST:
        raise _Unusual
    return _mapping(following, depth + 1) if kind is MappingStartEvent else _sequence(following, depth + 1)


def _scalar(event: Any) -> Any:
    style = event.style
    if style in BLOCK_STYLES:
        return Block(event.value.rstrip())
    if event.start_mark.line != event.end_mark.line:
        raise _Unusual
    return event.value if style else plain_value(event.value)


def _mapping(following: Callable[[], Any], depth: int) -> dict[str, Any]:
    result: dict[str, Any] = {}
    while type(key := following()) is not MappingEndEvent:
        if type(key) is not ScalarEvent or key.anchor is not None or key.value in result or key.value == "<<":
            raise _Unusual
        result[key.value] = _value(following(), following, depth)
    return result


def _sequence(following: Callable[[], Any], depth: int) -> list[Any]:
    result: list[Any] = []
    while type(event := following()) is not SequenceEndEvent:
        result.append(_value(event, following, depth))
    return result


def plain_value(text: str) -> bool | int | Decimal | str | None:
    """An unquoted value: true, false, null, a whole number, a decimal with its digits kept; anything else is text."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] in "-0123456789":
        if _INTEGER.match(text):
            return int(text)
        if _DECIMAL.match(text):
            return Decimal(text)
    return text
