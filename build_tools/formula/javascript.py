"""Writes formulas, and the layouts of their working, as JavaScript from the same tree."""
from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from build_tools.formula.mathml import Branch, Each, Gap, Layout, Ratio
from build_tools.formula.tree import Call, Choose, Comparison, Literal, Name, Negative, Node, Operation, Over, Word

_OPERATIONS = {"+": "add", "-": "sub", "*": "mul", "/": "div", "%": "mod", "**": "pow"}
_COMPARISONS = {"<": "lt", "<=": "le", "==": "eq", "!=": "ne", ">": "gt", ">=": "ge"}


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
