"""From the plain data of a file to its entry. Which attribute takes what is read from the type hints of the model, once a class."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from types import UnionType
from typing import Any, Callable, Mapping, get_args, get_origin, get_type_hints

from build_tools.model import KINDS, Entry
from build_tools.model_parts import ROW_COLUMNS, Basis, Choice, Languages, Row


def entry_from(data: Mapping[str, Any]) -> Entry:
    """The entry of data that has passed its schema."""
    return _build(KINDS[data["kind"]], data)


def _build(cls: type, data: Any) -> Any:
    """An object of `cls`; a Python keyword among the field names (`for`, `with`, `from`) has an underscore behind it."""
    special = _SPECIAL.get(cls)
    if special:
        data = special(data)
    known = _converters(cls)
    return cls(**{known[name][0]: known[name][1](value) for name, value in data.items()})


def _basis(data: Any) -> Mapping[str, Any]:
    return {"word": data} if isinstance(data, str) else data


def _languages(data: Mapping[str, Any]) -> Mapping[str, Any]:
    words = {code: value for code, value in data.items() if code not in ("basis", "note")}
    return {"words": words} | {name: data[name] for name in ("basis", "note") if name in data}


def _row(data: Mapping[str, Any]) -> Mapping[str, Any]:
    own = {name: value for name, value in data.items() if name in ROW_COLUMNS}
    return own | {"cells": {name: value for name, value in data.items() if name not in ROW_COLUMNS}}


def _choice(data: Any) -> Mapping[str, Any]:
    return {"value": data, "label": data} if isinstance(data, str) else data


_SPECIAL: dict[type, Callable[[Any], Mapping[str, Any]]] = {Basis: _basis, Languages: _languages, Row: _row, Choice: _choice}


@cache
def _converters(cls: type) -> dict[str, tuple[str, Callable[[Any], Any]]]:
    """For each field in the file: the attribute's name, and what turns the file's value into it."""
    hints = get_type_hints(cls)
    return {part.name.rstrip("_"): (part.name, _converter(hints[part.name])) for part in fields(cls)}


def _converter(hint: Any) -> Callable[[Any], Any]:
    if get_origin(hint) is UnionType:
        hint = get_args(hint)[0]
    if get_origin(hint) is tuple:
        inner = _converter(get_args(hint)[0])
        return lambda values: tuple(inner(value) for value in values)
    if get_origin(hint) is not None and issubclass(get_origin(hint), Mapping):
        inner = _converter(get_args(hint)[1])
        return lambda values: {key: inner(value) for key, value in values.items()}
    if hasattr(hint, "__dataclass_fields__"):
        return lambda value: _build(hint, value)
    return str if hint is str else lambda value: value
