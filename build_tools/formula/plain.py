"""Writes a formula with its numbers put in as one line of plain text: 2 × 33 × (84 × 78)/(7 × 7) / 1."""
from __future__ import annotations

from collections.abc import Mapping

from build_tools.formula.evaluate import Mesh, Value, evaluate
from build_tools.formula.tree import Call, Choose, Comparison, Literal, Name, Negative, Node, Operation, Over, Word
from build_tools.number import in_working

_STRENGTH = {"+": 1, "-": 1, "*": 2, "/": 2, "%": 2, "**": 4}
_SIGNS = {"*": "×", "**": "^", "%": "mod"}
_FIRST_NUMBERS, MOST_NUMBERS = 3, 8  # of a list in a sum: a month of readings makes no line that anybody reads


def with_numbers(node: Node, values: Mapping[str, Value], strength: int = 0) -> str:
    """The line; bracketed where it binds less tightly than `strength`."""
    match node:
        case Literal(text) | Word(text):
            return text
        case Name("pi"):
            return "π"
        case Name(name):
            return _value(values[name], strength)
        case Negative(body):
            return f"-{with_numbers(body, values, 3)}" if strength < 2 else f"(-{with_numbers(body, values, 3)})"
        case Operation(sign, left, right):
            return _operation(node, values, strength)
        case Comparison(sign, left, right):
            return f"{with_numbers(left, values)} {sign} {with_numbers(right, values)}"
        case Choose(test, then, other):
            return with_numbers(then if evaluate(test, values) else other, values, strength)
        case Call("ratio", (Name(name),)):
            drivers, driven = (" × ".join(map(str, side)) for side in zip(*values[name]))
            line = f"({drivers})/({driven})" if len(values[name]) > 1 else f"{drivers}/{driven}"
            return f"({line})" if strength > 2 else line
        case Call(function, arguments):
            return f"{function}({', '.join(with_numbers(argument, values) for argument in arguments)})"
        case Over(function, body, name, listed):
            sign = " + " if function == "sum" else " × "
            return f"({sign.join(with_numbers(body, {**values, name: value}, 2) for value in values[listed])})"
    raise TypeError(node)


def _operation(node: Operation, values: Mapping[str, Value], strength: int) -> str:
    own = _STRENGTH[node.sign]
    left = with_numbers(node.left, values, own + (node.sign == "**"))
    right = with_numbers(node.right, values, own + (node.sign in "-/%"))
    line = f"{left}^{right}" if node.sign == "**" else f"{left} {_SIGNS.get(node.sign, node.sign)} {right}"
    return f"({line})" if own < strength else line


def _value(value: Value, strength: int) -> str:
    text = in_sum(value)
    return f"({text})" if strength > 1 and (text.startswith("-") or "e" in text) else text


def in_sum(value: Value) -> str:
    """A value as it stands in a sum: a long list by its first numbers, its last and how many there are."""
    if isinstance(value, tuple) and len(value) > MOST_NUMBERS:
        return f"{written(value[:_FIRST_NUMBERS])} … {written(value[-1:])} ({len(value)} numbers)"
    return written(value)


def written(value: Value) -> str:
    """A value as it is typed: "84/7 78/7", "29.5", "2026-11-25"."""
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return " ".join(f"{each.driver}/{each.driven}" if isinstance(each, Mesh) else in_working(each) for each in value)
    return in_working(value)
