"""Works a formula out: exactly while the numbers are counts and decimals, as floats from the first root on."""
from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from contextlib import suppress
from fractions import Fraction
from functools import partial
from operator import add, eq, ge, gt, itemgetter, le, lt, mul, ne, neg, sub, truediv
from types import MappingProxyType
from typing import NamedTuple, Union

from build_tools.formula import special
from build_tools.formula.tree import Call, Choose, Comparison, Literal, Name, Negative, Node, Operation, Over, Word
from build_tools.number import LARGEST_BITS, Number, NumberError, as_float, bounded, compact, round_half_away, settled

LARGEST_POWER = 1000
COMPARISONS = {"<": lt, "<=": le, "==": eq, "!=": ne, ">": gt, ">=": ge}
MISPLACED = "a number stands where a list is wanted, or a list or word where a number is"


class Mesh(NamedTuple):
    """A driver and the wheel or pinion it drives, in teeth."""
    driver: int
    driven: int


Train = tuple[Mesh, ...]
Value = Union[Fraction, float, str, Train, tuple[Number, ...]]


Names = Mapping[str, Value]
Work = Callable[[Names], Value]


def evaluate(node: Node, names: Names) -> Value:
    """The value of the formula with these names; raises NumberError in one sentence when it has none."""
    return prepared(node)(names)


def prepared(node: Node, steady: Names = MappingProxyType({})) -> Work:
    """The formula as a function of its names, for one that is worked more than once: its tree is walked only here.

    What hangs on nothing but `steady` names is worked out here, too. The function raises NumberError in one sentence where the formula has no value.
    """
    work = _work(node, steady)

    def worked(names: Names) -> Value:
        try:
            return work(names)
        except KeyError as error:
            raise NumberError(f"nothing is known of {error.args[0]}") from None
        except (TypeError, AttributeError):
            raise NumberError(MISPLACED) from None

    return worked


class _Steady:
    """A part of a formula that has the same value whatever the names are."""

    def __init__(self, value: Value) -> None:
        self.value = value

    def __call__(self, names: Names) -> Value:
        return self.value


def _work(node: Node, steady: Names) -> Work:
    match node:
        case Literal(text):
            return _Steady(Fraction(text))
        case Word(text):
            return _Steady(text)
        case Name(name):
            return _named(name, steady)
        case Negative(body):
            return _applied(neg, [_work(body, steady)])
        case Operation(sign, left, right):
            return _operation(sign, _work(left, steady), _work(right, steady))
        case Comparison(sign, left, right):
            return _applied(partial(compare, sign), [_work(left, steady), _work(right, steady)])
        case Choose(test, then, other):
            return _chosen(_work(test, steady), _work(then, steady), _work(other, steady))
        case Call(function, arguments):
            return _applied(FUNCTIONS[function], [_work(argument, steady) for argument in arguments])
        case Over(function, body, name, values):
            others = {other: value for other, value in steady.items() if other != name}
            return _over("+" if function == "sum" else "*", _work(body, others), name, values)
    raise NumberError("this part of a formula can't be worked out")


def _named(name: str, steady: Names) -> Work:
    if name == "pi":
        return _Steady(math.pi)
    return _Steady(steady[name]) if name in steady else itemgetter(name)


def _applied(function: Callable[..., Value], works: list[Work]) -> Work:
    if all(isinstance(work, _Steady) for work in works):
        with suppress(NumberError, TypeError, AttributeError):  # what has no value is said when it is asked for
            return _Steady(function(*(work.value for work in works)))
    if len(works) == 1:
        only = works[0]
        return lambda names: function(only(names))
    if len(works) == 2:
        first, second = works
        return lambda names: function(first(names), second(names))
    return lambda names: function(*[work(names) for work in works])


def _operation(sign: str, left: Work, right: Work) -> Work:
    """An operation; a steady number meets a float as the float that it would be turned into each time."""
    function, steady = OPERATIONS[sign], [isinstance(work, _Steady) and isinstance(work.value, Fraction) for work in (left, right)]
    if sign not in EXACT_OR_FLOAT or steady[0] == steady[1]:
        return _applied(function, [left, right])
    exact, other = (left.value, right) if steady[0] else (right.value, left)
    try:
        rounded = as_float(exact)
    except NumberError:  # beyond all floats, and said to be so when it meets one
        return _applied(function, [left, right])

    def worked(names: Names) -> Number:
        value = other(names)
        number = rounded if type(value) is float else exact
        return function(number, value) if steady[0] else function(value, number)

    return worked


def _chosen(test: Work, then: Work, other: Work) -> Work:
    return lambda names: then(names) if test(names) else other(names)


def _over(sign: str, body: Work, name: str, values: str) -> Work:
    def worked(names: Names) -> Number:
        total: Number = Fraction(0 if sign == "+" else 1)
        for value in names[values]:
            total = operate(sign, total, body({**names, name: value}))
        return total

    return worked


def operate(sign: str, left: Number, right: Number) -> Number:
    """One of + - * / % ** between two numbers."""
    return OPERATIONS[sign](left, right)


def _plain(work: Callable) -> Callable[[Number, Number], Number]:
    """Plain arithmetic: exact between fractions, in floats as soon as one of the two is a float."""
    def worked(left: Number, right: Number) -> Number:
        kind = type(left)
        if kind is type(right):
            if kind is float:
                return finite(work(left, right))
            if kind is Fraction:
                return bounded(work(left, right))
        return finite(work(as_float(left), as_float(right)))

    return worked


_quotient = _plain(truediv)


def divided(left: Number, right: Number) -> Number:
    """left / right; raises NumberError when right is 0."""
    try:
        return _quotient(left, right)
    except ZeroDivisionError:
        raise NumberError("the sum divides by nothing (0)") from None


def finite(value: float) -> float:
    """The float itself; raises NumberError when it is infinite or not a number."""
    if not math.isfinite(value):
        raise NumberError("the sum runs out of the range of numbers")
    return value


def remainder(left: Number, right: Number) -> Fraction:
    """What is left over after whole divisions, with the sign of the divisor."""
    divisor = settled(right)
    if divisor == 0:
        raise NumberError("the sum divides by nothing (0)")
    return settled(left) % divisor


def power(base: Number, exponent: Number) -> Number:
    """base ** exponent: exact for whole exponents of moderate size, a float otherwise."""
    if base == 0 and exponent < 0:
        raise NumberError("the sum divides by nothing (0)")
    whole = type(exponent) is Fraction and exponent.denominator == 1
    if abs(exponent.numerator if whole else exponent) > LARGEST_POWER:
        raise NumberError(f"a power of {compact(exponent, 3)} is too large: {LARGEST_POWER} is the most")
    if whole and type(base) is Fraction and _bits(base) * abs(exponent.numerator) <= LARGEST_BITS:
        return base**exponent.numerator
    if base < 0 and not whole:
        raise NumberError("a root of a negative number is asked for")
    try:
        return finite(math.pow(as_float(base), as_float(exponent)))
    except OverflowError:
        raise NumberError("the sum runs out of the range of numbers") from None


def _bits(value: Fraction) -> int:
    return max(value.numerator.bit_length(), value.denominator.bit_length())


def compare(sign: str, left: Value, right: Value) -> bool:
    """One of < <= == != > >=; numbers are compared at twelve figures."""
    a, b = (value if isinstance(value, str) else settled(value) for value in (left, right))
    return COMPARISONS[sign](a, b) if type(a) is type(b) else sign == "!="


def ratio(train: Train) -> Fraction:
    """Turns of the last arbor for one turn of the first: the product of drivers over driven."""
    return math.prod((Fraction(mesh.driver, mesh.driven) for mesh in train), start=Fraction(1))


def spread(train: Train) -> Fraction:
    """The largest sum of the teeth of a mesh less the smallest: 0 where all pairs share their centre distance at one module."""
    sums = [mesh.driver + mesh.driven for mesh in train]
    return Fraction(max(sums) - min(sums))


def _real(function: Callable[..., float], asks: str) -> Callable[..., float]:
    """A float function whose domain errors become a sentence."""
    def worked(*values: Number) -> float:
        try:
            return finite(function(*map(as_float, values)))
        except ValueError:
            raise NumberError(asks) from None
        except (OverflowError, ZeroDivisionError):
            raise NumberError("the sum runs out of the range of numbers") from None
    return worked


def _whole(function: Callable[[int, int], int]) -> Callable[[Number, Number], Fraction]:
    def worked(*values: Number) -> Fraction:
        exact = [settled(value) for value in values]
        if any(value.denominator != 1 for value in exact):
            raise NumberError("common factors are asked of a number that is not whole")
        return Fraction(function(*(value.numerator for value in exact)))
    return worked


def _smallest(*values: Number) -> Number:
    return min(values, key=settled)


def _largest(*values: Number) -> Number:
    return max(values, key=settled)


def _round(value: Number, decimals: Number = Fraction(0)) -> Fraction:
    return round_half_away(value, int(decimals))


def _cube_root(value: float) -> float:
    return math.copysign(abs(value) ** (1 / 3), value)


EXACT_OR_FLOAT = "+-*/"
OPERATIONS: dict[str, Callable[[Number, Number], Number]] = {"+": _plain(add), "-": _plain(sub), "*": _plain(mul), "/": divided, "%": remainder, "**": power}
FUNCTIONS: dict[str, Callable[..., Value]] = {
    "min": _smallest, "max": _largest, "abs": lambda value: abs(value), "round": _round,
    "floor": lambda value: Fraction(math.floor(settled(value))), "ceil": lambda value: Fraction(math.ceil(settled(value))),
    "sqrt": _real(math.sqrt, "a root of a negative number is asked for"),
    "cbrt": _real(_cube_root, "no such root"),
    "root": _real(lambda value, degree: math.pow(value, 1 / degree), "a root of a negative number is asked for"),
    "sin": _real(math.sin, ""), "cos": _real(math.cos, ""), "tan": _real(math.tan, ""),
    "asin": _real(math.asin, "no angle has this sine: the number must lie between -1 and 1"),
    "acos": _real(math.acos, "no angle has this cosine: the number must lie between -1 and 1"),
    "atan": _real(math.atan, ""), "atan2": _real(math.atan2, ""),
    "radians": _real(lambda degrees: degrees * (math.pi / 180), ""), "degrees": _real(lambda radians: radians * (180 / math.pi), ""),
    "exp": _real(math.exp, ""), "log": _real(math.log, "a logarithm wants a number above 0"),
    "len": lambda values: Fraction(len(values)), "ratio": ratio, "spread": spread, "lcm": _whole(math.lcm), "gcd": _whole(math.gcd),
    "agm": special.agm, "epicycloid": special.epicycloid, "fewest_leaves": special.fewest_leaves,
    "slope": special.slope, "slope_error": special.slope_error, "nth": special.nth, "day_number": special.day_number,
}
