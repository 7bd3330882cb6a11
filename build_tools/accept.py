"""A quick yes for values that plainly fit a part of a schema.

jsonschema explains what is wrong, at some twenty microseconds a value. Nearly every value is right, so it is asked only about the rest:
a yes from here means that jsonschema would find nothing; a no decides nothing. A test compares the two on spoilt entries.
"""

from __future__ import annotations

import re
from typing import Any, Callable

from build_tools.loaded import Block

Accepts = Callable[[Any], bool]
_SAYS_NOTHING = {"description", "examples", "x-wanted", "x-ref", "x-row", "x-ref-keys"}
_compiled: dict[int, tuple[Any, Accepts]] = {}


def accepts(part: Any, value: Any) -> bool:
    """Whether `value` plainly fits `part`, which must live as long as the program does."""
    known = _compiled.get(id(part))
    if known is None:
        known = _compiled[id(part)] = (part, _compile(part))
    return known[1](value)


def _compile(part: Any) -> Accepts:
    if not isinstance(part, dict):
        return lambda value: False
    words = part.keys() - _SAYS_NOTHING
    if words == {"enum"}:
        return lambda value: isinstance(value, str) and value in part["enum"]
    if part.get("if") == {"type": "string"} and words == {"type", "if", "then", "else"}:
        return lambda value: accepts(part["then" if isinstance(value, str) else "else"], value)
    make, allowed = _SORTS.get(str(part.get("type")), (None, set()))
    return make(part) if make and words <= allowed else lambda value: False


def _text(part: dict[str, Any]) -> Accepts:
    least, wanted = part.get("minLength", 0), Block if part.get("x-prose") else str
    fits = re.compile(part.get("pattern", "")).search
    return lambda value: isinstance(value, wanted) and len(value) >= least and fits(value) is not None


def _whole(part: dict[str, Any]) -> Accepts:
    least, most = part.get("minimum", float("-inf")), part.get("maximum", float("inf"))
    return lambda value: type(value) is int and least <= value <= most


def _list(part: dict[str, Any]) -> Accepts:
    least, unique, item = part.get("minItems", 0), part.get("uniqueItems", False), part["items"]

    def fits(value: Any) -> bool:
        if not isinstance(value, list) or len(value) < least or not all(accepts(item, each) for each in value):
            return False
        return not unique or all(each not in value[:index] for index, each in enumerate(value))

    return fits


def _group(part: dict[str, Any]) -> Accepts:
    required, least = set(part.get("required", ())), part.get("minProperties", 0)
    fields, rest = part.get("properties", {}), part.get("additionalProperties")
    names = re.compile(part.get("propertyNames", {}).get("pattern", "")).search

    def fits(value: Any) -> bool:
        return (
            isinstance(value, dict)
            and len(value) >= least
            and required <= value.keys()
            and all(names(name) and accepts(fields.get(name, rest), each) for name, each in value.items())
        )

    return fits


_SORTS: dict[str, tuple[Callable[[dict[str, Any]], Accepts], set[str]]] = {
    "string": (_text, {"type", "minLength", "pattern", "x-prose"}),
    "integer": (_whole, {"type", "minimum", "maximum"}),
    "array": (_list, {"type", "minItems", "uniqueItems", "items"}),
    "object": (_group, {"type", "required", "additionalProperties", "properties", "minProperties", "propertyNames"}),
}
