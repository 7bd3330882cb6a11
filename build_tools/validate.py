"""jsonschema with our own words: one validator a kind, for the entries that are not plainly right."""

from __future__ import annotations

from functools import cache
from typing import Any, Iterator

from jsonschema import Draft7Validator, ValidationError, validators

from build_tools.loaded import Block
from build_tools.schema import schema


@cache
def validator(kind: str) -> Draft7Validator:
    """The one validator of a kind."""
    return _Validator(schema(kind))


def _required(_: Any, names: list[str], instance: Any, __: Any) -> Iterator[ValidationError]:
    """One error for each missing field; its message is the field's name."""
    if isinstance(instance, dict):
        yield from (ValidationError(name) for name in names if name not in instance)


def _fields(check: Any, fields: dict[str, Any], instance: Any, _: Any) -> Iterator[ValidationError]:
    """What is wrong in the fields; for one that may not be there, an error whose message is its name."""
    if isinstance(instance, dict):
        for name, part in fields.items():
            if name in instance and part is False:
                yield ValidationError(name)
            elif name in instance:
                yield from check.descend(instance[name], part, path=name, schema_path=name)


def _further_fields(check: Any, part: Any, instance: Any, around: dict[str, Any]) -> Iterator[ValidationError]:
    """Fields that the schema does not name: one error each (its message is the name) where there may be none."""
    if isinstance(instance, dict) and part is False:
        yield from (ValidationError(name) for name in instance if name not in around.get("properties", {}))
    else:
        yield from Draft7Validator.VALIDATORS["additionalProperties"](check, part, instance, around)


def _prose(_: Any, wanted: bool, instance: Any, __: Any) -> Iterator[ValidationError]:
    if wanted and isinstance(instance, str) and not isinstance(instance, Block):
        yield ValidationError("not a block")


_Validator = validators.extend(
    Draft7Validator,
    {"required": _required, "properties": _fields, "additionalProperties": _further_fields, "x-prose": _prose},
)
