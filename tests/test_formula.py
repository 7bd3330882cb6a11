"""Formulas: what is let through, what it is worth, how it is written, and that the page makes the same of it."""
from __future__ import annotations

import math
import random
import time
from fractions import Fraction
from xml.etree import ElementTree

import pytest

from build_tools.formula import mathml, plain
from build_tools.formula.evaluate import FUNCTIONS, Mesh, evaluate
from build_tools.formula.javascript import expression, gaps
from build_tools.formula.parse import FormulaError, parse
from build_tools.formula.tree import FUNCTIONS as ALLOWED
from build_tools.formula.tree import names_in, never_fails
from build_tools.number import NumberError, as_float
from tests.javascript import Page

REFUSED = (
    "", "1 +", "a.b", "a[0]", "lambda: 1", "a < b < c", "a and b", "not a", "[1, 2]", "{1: 2}", "f'{a}'", "__import__('os')", "open('x')", "a := 1", "True", "None",
    "1j", "0x10", "9e99", "10 ** 400000000000000000000000000000000000000000", "a if b", "sqr(2)", "sqrt()", "sqrt(1, 2)", "sum(a)", "sum(x for x in a if x)",
    "sum(x for x in a for y in b)", "min(*a)", "round(1, ndigits=2)", "a; b", "a\nb", "-" * 60 + "a", "+".join("a" * 400), "a // b", "a @ b", "~a", "a is b", "a in b",
)
NAMES = {"a": Fraction(3), "b": Fraction(-7, 2), "c": 1.75, "teeth": Fraction(84), "list": (Fraction(1), Fraction(5, 2), 4.25), "train": (Mesh(84, 7), Mesh(78, 8)), "word": "hours"}


@pytest.mark.parametrize("text", REFUSED, ids=range(len(REFUSED)))
def test_refuses_what_is_not_allowed_in_one_sentence(text: str) -> None:
    with pytest.raises(FormulaError) as refusal:
        parse(text)
    assert "\n" not in str(refusal.value) or text in str(refusal.value)
    assert "Traceback" not in str(refusal.value)


def test_an_unknown_function_is_answered_with_the_nearest_or_with_all_allowed() -> None:
    with pytest.raises(FormulaError, match="did you mean sqrt"):
        parse("sqr(2)")
    with pytest.raises(FormulaError, match="asin"):
        parse("system(2)")


@pytest.mark.parametrize("text", ["9 ** 9 ** 9", "2 ** 1001", "(-8) ** 0.5", "0 ** -1", "1 / 0", "1 / (a - 3)", "5 % 0", "sqrt(0 - 1)", "log(0)", "asin(2)", "exp(1000)", "gcd(a, b)", "a + word", "-train", "len(a)", "missing + 1", "ratio(a)"])
def test_what_has_no_value_says_so_at_once(text: str) -> None:
    start = time.monotonic()
    with pytest.raises(NumberError) as refusal:
        evaluate(parse(text), NAMES)
    assert time.monotonic() - start < 0.5 and len(str(refusal.value)) < 140


@pytest.mark.parametrize("text", ["2 ** 1000", "((3 ** 999) ** 999) / (3 ** 990)", "(1 / 3) ** 900 * (1 / 7) ** 900"])
def test_great_powers_stay_small_or_are_refused(text: str) -> None:
    start = time.monotonic()
    try:
        evaluate(parse(text), NAMES)
    except NumberError:
        pass
    assert time.monotonic() - start < 0.5


EXACT = {
    "2 * 33 * ratio(train)": Fraction(2 * 33 * 84 * 78, 7 * 8), "a ** 3 / b": Fraction(27) / Fraction(-7, 2), "sum(x * 2 for x in list) if a > b else 0": 2 * (1 + 2.5 + 4.25),
    "product(x for x in list)": 2.5 * 4.25, "floor(0 - 7 / 2)": -4, "ceil(b)": -3, "round(2.5)": 3, "round(0 - 2.5)": -3, "round(8825.142857, 2)": Fraction("8825.14"),
    "b % a": Fraction(-7, 2) % 3, "len(list)": 3, "lcm(84, 18)": 252, "gcd(84, 18)": 6, "min(a, b)": Fraction(-7, 2), "max(a, b, 10)": 10, "abs(b)": Fraction(7, 2),
    "1 if word == 'hours' else 2": 1, "1 if word != 'hours' else 2": 2, "spread(train)": 91 - 86, "0.1 + 0.2": Fraction(3, 10), "floor(0.3 / 0.1)": 3, "-a ** 2": -9,
}


@pytest.mark.parametrize(("text", "value"), EXACT.items())
def test_worth(text: str, value: float) -> None:
    assert evaluate(parse(text), NAMES) == value


REAL = {"sqrt(2)": 2**0.5, "cbrt(0 - 27)": -3, "root(32, 5)": 2, "sin(radians(30))": 0.5, "degrees(atan2(1, 1))": 45, "exp(log(5))": 5, "acos(0) * 2": math.pi, "tan(pi / 4)": 1, "2 ** 0.5": 2**0.5, "asin(1) + cos(0)": math.pi / 2 + 1}


@pytest.mark.parametrize(("text", "value"), REAL.items())
def test_worth_of_roots_and_angles(text: str, value: float) -> None:
    assert evaluate(parse(text), NAMES) == pytest.approx(value, rel=1e-12)


def test_floor_of_a_float_that_is_a_whole_number_but_for_its_last_bits() -> None:
    assert evaluate(parse("floor(sqrt(2) ** 2)"), {}) == 2
    assert evaluate(parse("1 if sqrt(2) ** 2 == 2 else 0"), {}) == 1


def test_counts_stay_exact() -> None:
    chance = random.Random(258)
    for _ in range(300):
        driver, driven = chance.randint(20, 144), chance.randint(6, 20)
        assert evaluate(parse("floor(ratio(t) * p)"), {"t": (Mesh(driver, driven),), "p": Fraction(driven)}) == driver


def test_every_allowed_function_is_worked() -> None:
    assert set(FUNCTIONS) == set(ALLOWED)


def test_names_in_a_formula() -> None:
    assert names_in(parse("sum(x * a for x in list) + pi + ratio(train)")) == {"a", "list", "train"}


def _random_formula(chance: random.Random, depth: int) -> str:
    """A formula that Python itself can work out with floats, for an answer from outside our code."""
    if depth == 0:
        return chance.choice(["a", "b", "c", "teeth", "2", "0.5", "12", "pi"])
    one, two = _random_formula(chance, depth - 1), _random_formula(chance, depth - 1)
    return chance.choice([
        f"({one} + {two})", f"({one} - {two})", f"{one} * {two}", f"({one}) / ({two})", f"abs({one})", f"min({one}, {two})", f"max({one}, {two})",
        f"sqrt(abs({one}))", f"sin({one})", f"({one}) ** 2", f"-({one})", f"({one} if {one} < {two} else {two})",
    ])


FORMULAS = [_random_formula(random.Random(seed), 1 + seed % 4) for seed in range(600)]
PYTHON = {"sqrt": math.sqrt, "sin": math.sin, "abs": abs, "min": min, "max": max, "pi": math.pi}


def test_worth_is_what_python_makes_of_it() -> None:
    numbers = {name: float(value) for name, value in NAMES.items() if isinstance(value, Fraction | float)}
    checked = 0
    for text in FORMULAS:
        try:
            expected = eval(text, {"__builtins__": {}}, {**PYTHON, **numbers})  # noqa: S307 - formulas made above
        except (ZeroDivisionError, OverflowError):
            continue
        if abs(expected) > 1e-6:
            assert as_float(evaluate(parse(text), NAMES)) == pytest.approx(expected, rel=1e-7), text
            checked += 1
    assert checked > 400


def test_the_page_works_the_same_formulas_to_the_same_figures(scripts: Page) -> None:
    texts = [*FORMULAS, *EXACT, *REAL]
    functions = ", ".join(f"v => {expression(parse(text))}" for text in texts)
    values = "{a: N.of('3'), b: N.read('-7/2'), c: 1.75, teeth: N.of('84'), list: [N.of('1'), N.of('2.5'), 4.25], train: [[84, 7], [78, 8]], word: 'hours'}"
    theirs = scripts.run(f"((N, S) => [{functions}].map(f => attempt(() => plainValue(f({values})))))(ClockRef.number, ClockRef.sums)", None)
    for text, their in zip(texts, theirs):
        try:
            ours = evaluate(parse(text), NAMES)
        except NumberError as error:
            assert their == {"error": str(error)}, text
            continue
        if isinstance(ours, Fraction):
            assert their == str(ours), text
        else:
            assert float(their) == pytest.approx(ours, rel=1e-12), text


@pytest.mark.parametrize("text", [*EXACT, *REAL, *FORMULAS[::40]])
def test_mathml_is_well_formed_with_symbols_and_with_numbers(text: str) -> None:
    parts = mathml.layout(parse(text))
    for written in (mathml.with_symbols(parts, {"a": "a_1", "teeth": "z"}), mathml.with_numbers(parts, NAMES)):
        ElementTree.fromstring(f"<math>{written}</math>")


def test_the_page_fills_the_gaps_alike(scripts: Page) -> None:
    texts = [*EXACT, *REAL, *FORMULAS[::5]]
    values = "{a: N.of('3'), b: N.read('-7/2'), c: 1.75, teeth: N.of('84'), list: [N.of('1'), N.of('2.5'), 4.25], train: [[84, 7], [78, 8]], word: 'hours'}"
    layouts = ", ".join(gaps(mathml.layout(parse(text))) for text in texts)
    theirs = scripts.run(f"((N, S) => [{layouts}].map(parts => ClockRef.working.withNumbers(parts, {values})))(ClockRef.number, ClockRef.sums)", None)
    assert theirs == [mathml.with_numbers(mathml.layout(parse(text)), NAMES) for text in texts]


WRITTEN = {"2 * a / (b + c)": "2 × 3 / (-3.5 + 1.75)", "a ** 2 * b": "3^2 × (-3.5)", "a - (b - c)": "3 - (-3.5 - 1.75)", "ratio(train) * a": "(84 × 78)/(7 × 8) × 3", "sum(x for x in list)": "(1 + 2.5 + 4.25)", "-b": "-(-3.5)"}


@pytest.mark.parametrize(("text", "line"), WRITTEN.items())
def test_plain_line(text: str, line: str) -> None:
    assert plain.with_numbers(parse(text), NAMES) == line


@pytest.mark.parametrize("text, safe", [
    ("a * 2 - b / 60", True), ("max(0, a) if a > b else abs(b)", True), ("a / b", False), ("a / 0", False), ("sqrt(a)", False), ("min(a, 1 / b)", False), ("sum(1 / x for x in values)", False),
])
def test_a_formula_that_may_fail_is_told_from_one_that_cannot(text: str, safe: bool) -> None:
    assert never_fails(parse(text)) is safe
