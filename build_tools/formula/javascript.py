"""Writes formulas as JavaScript from the same tree, and the script of all calculations that the page runs."""
from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from build_tools.formula.mathml import Branch, Each, Gap, Layout, Ratio, layout
from build_tools.formula.parse import parse
from build_tools.formula.tree import Call, Choose, Comparison, Literal, Name, Negative, Node, Operation, Over, Word

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation, Input, Step

_OPERATIONS = {"+": "add", "-": "sub", "*": "mul", "/": "div", "%": "mod", "**": "pow"}
_COMPARISONS = {"<": "lt", "<=": "le", "==": "eq", "!=": "ne", ">": "gt", ">=": "ge"}
SCRIPT = "js/calculations.js"


def expression(node: Node) -> str:
    """The formula as a JavaScript expression of `v` (values by name), `S` (the sums) and `N` (the numbers)."""
    match node:
        case Literal(text):
            return f'N.of("{text}")'
        case Word(text):
            return json.dumps(text, ensure_ascii=False)
        case Name("pi"):
            return "Math.PI"
        case Name(name):
            return f"v.{name}"
        case Negative(body):
            return f"S.neg({expression(body)})"
        case Operation(sign, left, right):
            return f"S.{_OPERATIONS[sign]}({expression(left)}, {expression(right)})"
        case Comparison(sign, left, right):
            return f"S.{_COMPARISONS[sign]}({expression(left)}, {expression(right)})"
        case Choose(test, then, other):
            return f"({expression(test)} ? {expression(then)} : {expression(other)})"
        case Call(function, arguments):
            return f"S.{function}({', '.join(map(expression, arguments))})"
        case Over(function, body, name, values):
            return f'S.{function}(v, "{name}", v.{values}, v => {expression(body)})'
    raise TypeError(node)


def gaps(parts: Layout) -> str:
    """A layout as a JavaScript list: texts, and objects for the gaps that the page fills."""
    return f"[{', '.join(_gap(part) for part in _joined(parts))}]"


def _joined(parts: Layout) -> Iterable[Any]:
    """The layout with neighbouring texts run together."""
    text = ""
    for part in parts:
        if isinstance(part, str):
            text += part
            continue
        if text:
            yield text
        text = ""
        yield part
    if text:
        yield text


def _gap(part: str | Gap | Ratio | Branch | Each) -> str:
    match part:
        case Gap(name, tight):
            return f'{{value: "{name}", tight: {json.dumps(tight)}}}'
        case Ratio(name):
            return f'{{ratio: "{name}"}}'
        case Branch(test, _, then, other):
            return f"{{test: v => {expression(test)}, then: {gaps(then)}, other: {gaps(other)}}}"
        case Each(function, name, values, body):
            return f'{{each: "{name}", of: "{values}", sign: "{"+" if function == "sum" else "×"}", body: {gaps(body)}}}'
    return json.dumps(part, ensure_ascii=False)


def generated_scripts(library: Library) -> dict[str, str]:
    """The scripts that pages need besides the hand-written ones, by path below the site."""
    entries = [entry for entry in library.of_kind("calculation") if entry.status != "retired"]
    units = [
        {"name": row.name, "says": row.says, "worth": row.value, "base": row.unit, "symbol": row.symbol or row.name, "also": list(row.also)}
        for row in library.table("units")
    ]
    body = ",\n".join(f"{json.dumps(entry.id)}: {_calculation(entry)}" for entry in entries)
    script = (
        '/* Written from kb/calculations by build_tools/formula/javascript.py. */\n(function (root) {\n"use strict";\n'
        "const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums;\n"
        f"ClockRef.units = {_json(units)};\nClockRef.calculations = {{\n{body}\n}};\n"
        '})(typeof window === "undefined" ? globalThis : window);\n'
    )
    return {SCRIPT: script}


def _calculation(entry: Calculation) -> str:
    steps = ",\n".join(_step(step) for step in entry.steps)
    results = [_without_blanks({"name": each.name, "label": each.label, "decimals": each.decimals, "significant": each.significant,
                                "unit": each.unit, "also": list(each.also)}) for each in entry.results]
    return (
        f"{{id: {json.dumps(entry.id)}, inputs: {_json([_input(field) for field in entry.inputs])},\n"
        f"steps: [{steps}],\nresults: {_json(results)}}}"
    )


def _input(field: Input) -> dict[str, Any]:
    return _without_blanks({
        "name": field.name, "label": field.label, "type": field.type, "unit": field.unit, "also": list(field.also),
        "minimum": field.minimum, "maximum": field.maximum, "default": field.default, "example": field.example,
        "choices": [_without_blanks({"value": each.value, "label": each.label, "sets": dict(each.sets)}) for each in field.choices],
    })


def _step(step: Step) -> str:
    node = parse(step.formula)
    return (
        f"{{name: {json.dumps(step.name)}, label: {_json(step.label)}, unit: {_json(step.unit)}, "
        f"f: v => {expression(node)}, working: {gaps(layout(node))}}}"
    )


def _without_blanks(fields: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value not in ("", None, [], {})}


def _json(data: Any) -> str:
    return json.dumps(data, ensure_ascii=False)
