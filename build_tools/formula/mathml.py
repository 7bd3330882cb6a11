"""Writes a formula as MathML: once with its symbols, once with numbers put in.

`layout` walks the tree once and leaves gaps; `with_symbols` and `with_numbers` fill them, and the page's script
fills the same gaps with the visitor's own numbers, so that all three look alike.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from typing import Union

from build_tools.formula.evaluate import Mesh, Value, evaluate
from build_tools.formula.plain import in_sum
from build_tools.formula.tree import Call, Choose, Comparison, Literal, Name, Negative, Node, Operation, Over, Word
from build_tools.number import for_page, in_working

_STRENGTH = {"+": 1, "-": 1, "*": 2, "%": 2, "/": 3, "**": 4}
_SIGNS = {"+": "+", "-": "−", "*": "×", "<": "&lt;", "<=": "≤", "==": "=", "!=": "≠", ">": "&gt;", ">=": "≥"}
_FUNCTION_WORDS = {
    "asin": "arcsin", "acos": "arccos", "atan": "arctan", "atan2": "arctan", "log": "ln", "len": "number of", "spread": "spread of sums in",
    "agm": "mean of", "epicycloid": "height of tooth", "fewest_leaves": "fewest leaves for", "slope": "slope of", "slope_error": "error of slope of", "nth": "one of", "day_number": "day number of",
}


@dataclass(frozen=True)
class Gap:
    """The place of a value; a negative one wants brackets where `tight`."""
    name: str
    tight: bool


@dataclass(frozen=True)
class Ratio:
    """The place of the drivers over the driven of a train."""
    name: str


@dataclass(frozen=True)
class Branch:
    """One of two layouts, by a comparison."""
    test: Node
    test_layout: Layout
    then: Layout
    other: Layout


@dataclass(frozen=True)
class Each:
    """A sum or product, written out for each value of a list."""
    function: str
    name: str
    values: str
    body: Layout


Layout = tuple[Union[str, Gap, Ratio, Branch, Each], ...]


def layout(node: Node, strength: int = 0) -> Layout:
    """The MathML of a formula with gaps; bracketed where it binds less tightly than `strength`."""
    match node:
        case Literal(text):
            return (number(text),)
        case Word(text):
            return (f"<mtext>{escape(text)}</mtext>",)
        case Name("pi"):
            return ("<mi>π</mi>",)
        case Name(name):
            return (Gap(name, strength > 1),)
        case Negative(body):
            return _bracketed(("<mo>−</mo>", *layout(body, 2)), strength > 1)
        case Operation():
            return _operation(node, strength)
        case Comparison(sign, left, right):
            return (*layout(left, 1), f"<mo>{_SIGNS[sign]}</mo>", *layout(right, 1))
        case Choose(test, then, other):
            return (Branch(test, layout(test), layout(then, strength), layout(other, strength)),)
        case Call("ratio", (Name(name),)):
            return (Ratio(name),)
        case Call(function, arguments):
            return _call(function, arguments)
        case Over(function, body, name, values):
            return _bracketed((Each(function, name, values, layout(body, 2)),), strength > 1)
    raise TypeError(node)


def _operation(node: Operation, strength: int) -> Layout:
    own = _STRENGTH[node.sign]
    if node.sign == "/":
        return ("<mfrac><mrow>", *layout(node.left), "</mrow><mrow>", *layout(node.right), "</mrow></mfrac>")
    if node.sign == "**":
        fraction = isinstance(node.left, Operation) and node.left.sign == "/"
        base = _bracketed(layout(node.left), True) if fraction else layout(node.left, 5)
        return ("<msup><mrow>", *base, "</mrow><mrow>", *layout(node.right), "</mrow></msup>")
    sign = "<mi>mod</mi>" if node.sign == "%" else f"<mo>{_SIGNS[node.sign]}</mo>"
    return _bracketed((*layout(node.left, own), sign, *layout(node.right, own + (node.sign in "-%"))), own < strength)


def _bracketed(parts: Layout, wanted: bool) -> Layout:
    return ("<mrow><mo>(</mo>", *parts, "<mo>)</mo></mrow>") if wanted else ("<mrow>", *parts, "</mrow>")


def _call(function: str, arguments: tuple[Node, ...]) -> Layout:
    first = layout(arguments[0])
    match function:
        case "sqrt":
            return ("<msqrt><mrow>", *first, "</mrow></msqrt>")
        case "cbrt":
            return ("<mroot><mrow>", *first, "</mrow><mn>3</mn></mroot>")
        case "root":
            return ("<mroot><mrow>", *first, "</mrow><mrow>", *layout(arguments[1]), "</mrow></mroot>")
        case "abs":
            return ("<mrow><mo>|</mo>", *first, "<mo>|</mo></mrow>")
        case "floor":
            return ("<mrow><mo>⌊</mo>", *first, "<mo>⌋</mo></mrow>")
        case "ceil":
            return ("<mrow><mo>⌈</mo>", *first, "<mo>⌉</mo></mrow>")
        case "radians":
            return (*layout(arguments[0], 2), "<mo>°</mo>")
        case "degrees":
            return ("<mfrac><mn>180</mn><mi>π</mi></mfrac><mo>×</mo>", *layout(arguments[0], 2))
    parts: list = [f"<mrow><mi>{_FUNCTION_WORDS.get(function, function)}</mi><mo>(</mo>", *first]
    for argument in arguments[1:]:
        parts += ["<mo>,</mo><mspace width='0.2em'></mspace>", *layout(argument)]
    return (*parts, "<mo>)</mo></mrow>")


def number(text: str, tight: bool = False) -> str:
    """A printed number as MathML; a negative one in brackets where `tight`."""
    mantissa, _, exponent = text.partition("e")
    negative, digits = mantissa.startswith("-"), for_page(mantissa.lstrip("-"))
    body = f"<mn>{digits}</mn>"
    if exponent:
        power = f"<mo>−</mo><mn>{exponent[1:]}</mn>" if exponent.startswith("-") else f"<mn>{exponent.lstrip('+')}</mn>"
        body += f"<mo>×</mo><msup><mn>10</mn><mrow>{power}</mrow></msup>"
    if negative:
        body = f"<mo>−</mo>{body}"
    if tight and (negative or exponent):
        body = f"<mo>(</mo>{body}<mo>)</mo>"
    return f"<mrow>{body}</mrow>" if negative or exponent else body


def symbol(written: str) -> str:
    """A symbol or name as MathML: "z_e" gets a subscript, longer words stand upright."""
    head, _, foot = written.partition("_")
    if len(head) > 2:
        return f"<mtext>{escape(written.replace('_', ' '))}</mtext>"
    sign = f"<mi>{escape(head)}</mi>"
    return f"<msub>{sign}{_foot(foot)}</msub>" if foot else sign


def _foot(text: str) -> str:
    return f"<mn>{text}</mn>" if text.isdigit() else f"<mtext>{escape(text.replace('_', ' '))}</mtext>"


def with_symbols(parts: Layout, symbols: Mapping[str, str]) -> str:
    """The layout with every gap filled by the symbol of its name."""
    return "".join(_symbolic(part, symbols) for part in parts)


def _symbolic(part: str | Gap | Ratio | Branch | Each, symbols: Mapping[str, str]) -> str:
    match part:
        case Gap(name):
            return symbol(symbols.get(name, name))
        case Ratio():
            return "<mfrac><mtext>drivers multiplied</mtext><mtext>driven multiplied</mtext></mfrac>"
        case Branch():
            return _cases(part, symbols)
        case Each(function, name, values, body):
            sign = "∑" if function == "sum" else "∏"
            below = f"<mrow>{symbol(name)}<mo>∈</mo>{symbol(symbols.get(values, values))}</mrow>"
            return f"<mrow><munder><mo>{sign}</mo>{below}</munder>{with_symbols(body, symbols)}</mrow>"
    return part


def _cases(branch: Branch, symbols: Mapping[str, str]) -> str:
    """All branches below one another, also those that stand within the last one."""
    rows, rest = [], (branch,)
    while len(rest) == 1 and isinstance(rest[0], Branch):
        rows.append((with_symbols(rest[0].then, symbols), "<mtext>if&#160;</mtext>" + with_symbols(rest[0].test_layout, symbols)))
        rest = rest[0].other
    rows.append((with_symbols(rest, symbols), "<mtext>otherwise</mtext>"))
    cells = "".join(f"<mtr><mtd>{value}</mtd><mtd>{when}</mtd></mtr>" for value, when in rows)
    return f"<mrow><mo>{{</mo><mtable>{cells}</mtable></mrow>"


def with_numbers(parts: Layout, values: Mapping[str, Value]) -> str:
    """The layout with every gap filled by its number."""
    return "".join(_numeric(part, values) for part in parts)


def _numeric(part: str | Gap | Ratio | Branch | Each, values: Mapping[str, Value]) -> str:
    match part:
        case Gap(name, tight):
            return value_of(values[name], tight)
        case Ratio(name):
            return ratio_of(values[name])
        case Branch(test, _, then, other):
            return with_numbers(then if evaluate(test, values) else other, values)
        case Each(function, name, listed, body):
            sign = "<mo>+</mo>" if function == "sum" else "<mo>×</mo>"
            return sign.join(with_numbers(body, {**values, name: value}) for value in values[listed])
    return part


def value_of(value: Value, tight: bool = False) -> str:
    """One value as MathML."""
    if isinstance(value, str | tuple):
        return f"<mtext>{escape(in_sum(value))}</mtext>"
    return number(in_working(value), tight)


def ratio_of(train: tuple[Mesh, ...]) -> str:
    """Drivers over driven, written out: 84 × 78 over 7 × 7."""
    drivers, driven = ("<mo>×</mo>".join(f"<mn>{teeth}</mn>" for teeth in side) for side in zip(*train))
    return f"<mfrac><mrow>{drivers}</mrow><mrow>{driven}</mrow></mfrac>"


def quantity(text: str, unit: str) -> str:
    """A printed result with its unit as MathML."""
    return number(text) + (f"<mspace width='0.25em'></mspace><mtext>{escape(unit)}</mtext>" if unit else "")


def aligned(rows: list[tuple[str, str]]) -> str:
    """Rows of "left = right" under one another, in a box that scrolls sideways when it must."""
    cells = "".join(
        f'<mtr><mtd style="text-align:right">{left}</mtd><mtd><mo>=</mo></mtd><mtd style="text-align:left">{right}</mtd></mtr>'
        for left, right in rows
    )
    return f'<math display="block"><mtable displaystyle="true">{cells}</mtable></math>'
