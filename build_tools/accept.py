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
_OF_A_GROUP = {"type", "required", "additionalProperties", "properties", "minProperties", "propertyNames", "dependencies"} | {
    *("$schema", "$id", "title", "allOf", "if", "then", "else")
}


def acceptor(part: Any) -> Accepts:
    """What says yes to the values that plainly fit a part of a schema."""
    if not isinstance(part, dict):
        return _never
    words = part.keys() - _SAYS_NOTHING
    if words == {"const"}:
        return lambda value: isinstance(value, str) and value == part["const"]
    if words == {"enum"}:
        return lambda value: isinstance(value, str) and value in part["enum"]
    if isinstance(part.get("type"), list) and words <= {"type", "if", "then", "else"}:
        return _one_of_several_sorts(part)
    make, allowed = _SORTS.get(str(part.get("type")), (None, set()))
    return make(part) if make and words <= allowed else _never


def _never(value: Any) -> bool:
    return False


def _always(value: Any) -> bool:
    return True


def _one_of_several_sorts(part: dict[str, Any]) -> Accepts:
    """Text or a group, say, with what more is asked of the one sort and of the others."""
    sorts = tuple(_PYTHON_SORTS[sort] for sort in part["type"])
    special = _PYTHON_SORTS[part["if"]["type"]]
    then, other = (acceptor(part[branch]) if branch in part else _always for branch in ("then", "else"))

    def fits(value: Any) -> bool:
        right = isinstance(value, sorts) and (not isinstance(value, bool) or bool in sorts)
        return right and (then if isinstance(value, special) else other)(value)

    return fits


def _text(part: dict[str, Any]) -> Accepts:
    least, wanted = part.get("minLength", 0), Block if part.get("x-prose") else str
    if "pattern" not in part:
        return lambda value: isinstance(value, wanted) and len(value) >= least
    fits = re.compile(part["pattern"]).search
    return lambda value: isinstance(value, wanted) and len(value) >= least and fits(value) is not None


def _whole(part: dict[str, Any]) -> Accepts:
    least, most = part.get("minimum", float("-inf")), part.get("maximum", float("inf"))
    return lambda value: type(value) is int and least <= value <= most


def _list(part: dict[str, Any]) -> Accepts:
    least, unique, item = part.get("minItems", 0), part.get("uniqueItems", False), acceptor(part["items"])

    def fits(value: Any) -> bool:
        if not isinstance(value, list) or len(value) < least or not all(map(item, value)):
            return False
        return not unique or all(each not in value[:index] for index, each in enumerate(value))

    return fits


def _group(part: dict[str, Any]) -> Accepts:
    required, least = set(part.get("required", ())), part.get("minProperties", 0)
    fields = {name: acceptor(inner) for name, inner in part.get("properties", {}).items()}
    rest = acceptor(part.get("additionalProperties"))
    names = re.compile(part["propertyNames"]["pattern"]).search if "propertyNames" in part else _always
    further = [_conditional(rule) for rule in (*part.get("allOf", ()), part) if "if" in rule or rule is not part]
    needed = [(name, set(partners)) for name, partners in part.get("dependencies", {}).items()]

    def fits(value: Any) -> bool:
        return (
            isinstance(value, dict)
            and len(value) >= least
            and required <= value.keys()
            and all(names(name) and fields.get(name, rest)(each) for name, each in value.items())
            and all(rule(value) for rule in further)
            and all(name not in value or partners <= value.keys() for name, partners in needed)
        )

    return fits


def _conditional(rule: dict[str, Any]) -> Accepts:
    """If fields are there, or have a certain value, then others must be there, or must not."""
    if not {"if", "then"} <= rule.keys():
        return _never
    test, branches = rule["if"], [rule["then"], rule.get("else", {})]
    values = {name: part.get("const") for name, part in test.get("properties", {}).items()}
    if not all(branch.keys() <= {"required", "properties"} for branch in (test, *branches)) or None in values.values():
        return _never
    if any(part is not False for branch in branches for part in branch.get("properties", {}).values()):
        return _never

    def fits(value: dict[str, Any]) -> bool:
        asked = all(name in value for name in test.get("required", ()))
        asked = asked and all(value.get(name, wanted) == wanted for name, wanted in values.items())
        branch = branches[0] if asked else branches[1]
        return value.keys() >= set(branch.get("required", ())) and not value.keys() & branch.get("properties", {}).keys()

    return fits


_PYTHON_SORTS: dict[str, Any] = {"string": str, "integer": int, "boolean": bool, "array": list, "object": dict}
_SORTS: dict[str, tuple[Callable[[dict[str, Any]], Accepts], set[str]]] = {
    "string": (_text, {"type", "minLength", "pattern", "x-prose"}),
    "boolean": (lambda part: lambda value: isinstance(value, bool), {"type"}),
    "integer": (_whole, {"type", "minimum", "maximum"}),
    "array": (_list, {"type", "minItems", "uniqueItems", "items"}),
    "object": (_group, _OF_A_GROUP),
}
