"""A new entry to fill in, made from the schema of its kind: every required field, and the optional ones as comments."""

from __future__ import annotations

import textwrap
from typing import Any

from build_tools.load import plain_value
from build_tools.schema import FOLDERS, schema

_FILL = "..."


def skeleton(kind: str, id: str) -> str:
    """The text of a new entry. The dots are to be replaced; a line that begins with # is optional."""
    shape = schema(kind)
    lines = [
        f"# yaml-language-server: $schema=../schema/{kind}.json",
        f"# {shape['title']}. Put facts in place of the dots; take the comments away.",
    ]
    required = [*shape["required"], *shape.get("else", {}).get("required", ())]
    for name, part in shape["properties"].items():
        if name in required:
            lines += _field(name, _fixed(name, kind, id), part, 0)
    lines.append("# These may be added:")
    lines += [
        f"#   {name}: {part['description']}" for name, part in shape["properties"].items() if name not in required and name != "replaced_by"
    ]
    return "\n".join(lines) + "\n"


def path_of(kind: str, id: str) -> str:
    """Where the entry belongs, from the project's root."""
    return f"kb/{FOLDERS[kind]}/{id}.yaml"


def _fixed(name: str, kind: str, id: str) -> str:
    return {"kind": kind, "id": id, "status": "draft", "basis": "[common practice]"}.get(name, "")


def _field(name: str, fixed: str, part: dict[str, Any], depth: int) -> list[str]:
    """The lines of one field, with its description above it."""
    pad = "  " * depth
    if fixed:
        return [f"{pad}{name}: {fixed}"]
    comment = textwrap.wrap(part["description"], 110, initial_indent=f"{pad}# ", subsequent_indent=f"{pad}# ")
    return comment + _value(name, part, depth)


def _value(name: str, part: dict[str, Any], depth: int) -> list[str]:
    pad = "  " * depth
    if part.get("x-prose"):
        return [f"{pad}{name}: >", f"{pad}  {_FILL}"]
    if part.get("type") == "array":
        return [f"{pad}{name}:", *_items(part, depth + 1)]
    if part.get("type") == "object":
        return [f"{pad}{name}:", *_group(part, depth + 1)]
    return [f"{pad}{name}: {_scalar(part)}"]


def _scalar(part: dict[str, Any]) -> str:
    if "enum" in part:
        first = part["enum"][0]
        return first if isinstance(plain_value(first), str) else f'"{first}"'
    if "examples" in part:
        return f'"{part["examples"][0]}"'
    if "x-ref" in part:
        return f"{(part['x-ref'] or ['term'])[0]}:some-id"
    return {"integer": str(part.get("minimum", 1)), "boolean": "false"}.get(part["type"], f'"{_FILL}"')


def _items(part: dict[str, Any], depth: int) -> list[str]:
    """As many items as the list needs, a group's first line behind the hyphen, each with an id of its own."""
    item, count = part["items"], part.get("minItems", 1)
    inner = _item(item, depth + 1)
    lines = [f"{'  ' * depth}- {inner[0].lstrip()}", *inner[1:]]
    return lines if count == 1 else [line.replace("some-id", f"id-{each}") for each in range(1, count + 1) for line in lines]


def _item(item: dict[str, Any], depth: int) -> list[str]:
    """One item's lines; the first will stand behind the hyphen."""
    if item.get("type") == "object":
        return _group(item, depth)
    return [">", f"{'  ' * depth}{_FILL}"] if item.get("x-prose") else [_scalar(item)]


def _group(part: dict[str, Any], depth: int) -> list[str]:
    properties, required = part.get("properties", {}), part.get("required", ())
    lines = [line for name in required for line in _value(name, properties[name], depth)]
    rest = part.get("additionalProperties")
    if not lines and isinstance(rest, dict):
        key = "question:some-id" if "x-ref-keys" in part else "name"
        lines = _value(key, rest, depth)
    return lines
