"""Reads a formula into the tree, letting through only what the tree has a part for."""
from __future__ import annotations

import ast
from collections.abc import Callable
from difflib import get_close_matches

from build_tools.formula.tree import (
    CONSTANTS, FUNCTIONS, OVER, Call, Choose, Comparison, Literal, Name, Negative, Node, Operation, Over, Word,
)
from build_tools.number import NumberError, read_number

LONGEST = 600
DEEPEST = 40
_SIGNS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Mod: "%", ast.Pow: "**"}
_COMPARISONS = {ast.Lt: "<", ast.LtE: "<=", ast.Eq: "==", ast.NotEq: "!=", ast.Gt: ">", ast.GtE: ">="}
ALLOWED = "+ - * / % **, comparisons, 'a if c else b', " + ", ".join(sorted((*FUNCTIONS, *OVER))) + " and pi"


class FormulaError(ValueError):
    """What is wrong with a formula, in one sentence, and the column (from 1) where it is."""

    def __init__(self, sentence: str, column: int = 1) -> None:
        super().__init__(sentence)
        self.column = column


def parse(text: str) -> Node:
    """Reads a formula; raises FormulaError for anything outside the allowed syntax."""
    text = text.strip()
    if len(text) > LONGEST:
        raise FormulaError(f"the formula has {len(text)} characters; {LONGEST} are the most: break it into steps")
    try:
        expression = ast.parse(text, mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError) as error:
        column = getattr(error, "offset", None) or 1
        raise FormulaError(f"the formula can't be read from column {column} on", column) from None
    return _node(expression, text, 0)


def _node(part: ast.AST, text: str, depth: int) -> Node:
    if depth > DEEPEST:
        raise FormulaError("the formula is nested too deeply: break it into steps")

    def inner(child: ast.AST) -> Node:
        return _node(child, text, depth + 1)

    match part:
        case ast.Constant(value=bool()):
            raise _refusal(part, "True or False")
        case ast.Constant(value=int() | float()):
            return _literal(part, text)
        case ast.Constant(value=str()):
            return Word(part.value)
        case ast.Name(id=name):
            return Name(name)
        case ast.UnaryOp(op=ast.USub()):
            return Negative(inner(part.operand))
        case ast.BinOp(op=op) if type(op) in _SIGNS:
            return Operation(_SIGNS[type(op)], inner(part.left), inner(part.right))
        case ast.Compare(ops=[op], comparators=[right]) if type(op) in _COMPARISONS:
            return Comparison(_COMPARISONS[type(op)], inner(part.left), inner(right))
        case ast.IfExp():
            return Choose(inner(part.test), inner(part.body), inner(part.orelse))
        case ast.Call(func=ast.Name(id=function), keywords=[]):
            return _call(part, function, inner)
    raise _refusal(part, f"'{ast.get_source_segment(text, part) or text}'")


def _literal(part: ast.Constant, text: str) -> Literal:
    written = ast.get_source_segment(text, part) or str(part.value)
    try:
        read_number(written)
    except NumberError as error:
        raise FormulaError(str(error), part.col_offset + 1) from None
    return Literal(written)


def _call(part: ast.Call, function: str, inner: Callable[[ast.AST], Node]) -> Node:
    if function in OVER:
        return _over(part, function, inner)
    if function not in FUNCTIONS:
        near = get_close_matches(function, (*FUNCTIONS, *OVER), 1)
        hint = f"did you mean {near[0]}?" if near else f"allowed are {ALLOWED}"
        raise FormulaError(f"there is no function called {function}; {hint}", part.col_offset + 1)
    least, most = FUNCTIONS[function]
    if not least <= len(part.args) <= most:
        wanted = str(least) if least == most else f"{least} to {most}"
        raise FormulaError(f"{function} takes {wanted} value{'s' if most > 1 else ''}, not {len(part.args)}", part.col_offset + 1)
    return Call(function, tuple(inner(argument) for argument in part.args))


def _over(part: ast.Call, function: str, inner: Callable[[ast.AST], Node]) -> Node:
    match part.args:
        case [ast.GeneratorExp(elt=body, generators=[
            ast.comprehension(target=ast.Name(id=name), iter=ast.Name(id=values), ifs=[], is_async=0)
        ])] if name not in CONSTANTS:
            return Over(function, inner(body), name, values)
    raise FormulaError(f"write {function}(… for x in list), with a list among the inputs", part.col_offset + 1)


def _refusal(part: ast.AST, what: str) -> FormulaError:
    return FormulaError(f"{what} is not allowed in a formula; allowed are {ALLOWED}", getattr(part, "col_offset", 0) + 1)
