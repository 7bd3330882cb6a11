"""The parts a formula is made of, and which functions it may call."""
from __future__ import annotations

from dataclasses import dataclass
from typing import Union

FUNCTIONS: dict[str, tuple[int, int]] = {
    "min": (1, 12), "max": (1, 12), "floor": (1, 1), "ceil": (1, 1), "round": (1, 2), "abs": (1, 1),
    "sqrt": (1, 1), "cbrt": (1, 1), "root": (2, 2), "sin": (1, 1), "cos": (1, 1), "tan": (1, 1),
    "asin": (1, 1), "acos": (1, 1), "atan": (1, 1), "atan2": (2, 2), "radians": (1, 1), "degrees": (1, 1),
    "exp": (1, 1), "log": (1, 1), "len": (1, 1), "ratio": (1, 1), "lcm": (2, 2), "gcd": (2, 2), "spread": (1, 1),
    "agm": (2, 2), "epicycloid": (2, 2), "fewest_leaves": (1, 1), "slope": (2, 2), "slope_error": (2, 2), "nth": (2, 2), "day_number": (1, 1),
}
"""Function name → least and most arguments. `sum` and `product` stand apart: they run over a list."""
OVER = ("sum", "product")
CONSTANTS = ("pi",)
SAFE_SIGNS, SAFE_FUNCTIONS = "+-*", ("min", "max", "floor", "ceil", "round", "abs")
"""What has a value for all numbers."""


@dataclass(frozen=True)
class Literal:
    """A number as it is written in the formula."""
    text: str


@dataclass(frozen=True)
class Word:
    """A quoted word, to compare a choice with."""
    text: str


@dataclass(frozen=True)
class Name:
    """An input, an earlier step, the running name of a sum, or pi."""
    name: str


@dataclass(frozen=True)
class Negative:
    """-body"""
    body: Node


@dataclass(frozen=True)
class Operation:
    """left + right and its like; the sign is one of + - * / % **."""
    sign: str
    left: Node
    right: Node


@dataclass(frozen=True)
class Comparison:
    """left < right and its like; the sign is one of < <= == != > >=."""
    sign: str
    left: Node
    right: Node


@dataclass(frozen=True)
class Choose:
    """then if test else other"""
    test: Node
    then: Node
    other: Node


@dataclass(frozen=True)
class Call:
    """function(arguments), the function one of FUNCTIONS."""
    function: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True)
class Over:
    """sum(body for name in values), or product."""
    function: str
    body: Node
    name: str
    values: str


Node = Union[Literal, Word, Name, Negative, Operation, Comparison, Choose, Call, Over]


def names_in(node: Node) -> frozenset[str]:
    """Every name the formula takes from outside itself; pi is not among them."""
    match node:
        case Name(name):
            return frozenset() if name in CONSTANTS else frozenset({name})
        case Negative(body):
            return names_in(body)
        case Operation(_, left, right) | Comparison(_, left, right):
            return names_in(left) | names_in(right)
        case Choose(test, then, other):
            return names_in(test) | names_in(then) | names_in(other)
        case Call(_, arguments):
            return frozenset().union(*map(names_in, arguments))
        case Over(_, body, name, values):
            return (names_in(body) - {name}) | {values}
    return frozenset()


def never_fails(node: Node) -> bool:
    """Whether the formula has a value for all numbers: no division but by a plain number, no root, no logarithm."""
    match node:
        case Literal() | Word() | Name():
            return True
        case Negative(body):
            return never_fails(body)
        case Operation(sign, left, right):
            divides_well = sign == "/" and isinstance(right, Literal) and right.text.strip("0.") != ""
            return (sign in SAFE_SIGNS or divides_well) and never_fails(left) and never_fails(right)
        case Comparison(_, left, right):
            return never_fails(left) and never_fails(right)
        case Choose(test, then, other):
            return all(map(never_fails, (test, then, other)))
        case Call(function, arguments):
            return function in SAFE_FUNCTIONS and all(map(never_fails, arguments))
    return False
