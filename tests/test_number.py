"""Numbers are read, rounded and printed alike in Python and in the page, and as the standard library rounds them."""
from __future__ import annotations

import random
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest

from build_tools import number
from build_tools.number import NumberError, read_number
from tests.javascript import Page

READ = {
    "29.5": "59/2", "7 1/2": "15/2", "1/8": "1/8", "39,14": "1957/50", "-3": "-3", "\u2212 0,5": "-1/2", "7½": "15/2", "½": "1/2", "18 000": "18000",
    "18\u202f000.5": "36001/2", "1,234,567": "1234567", "1,234.5": "2469/2", "0,125": "1/8", ".5": "1/2", "5.": "5", "3.1e-6": "31/10000000", "+4": "4", "1 / 4": "1/4", "39·14": "1957/50", "·0064": "4/625", "366.2422/365.2422": "1831211/1826211",
}
REFUSED = ("", " ", "abc", "nan", "inf", "--3", "1/0", "1e400", "1e31", "9" * 41, "18,000", "1.2.3", "1,2,3", "3 4", "0x10", "1_000", "²", "9**9**9", "1/2/3", "-", "1.5/0", "3·", "1.5 2.5/3", "٣", "１２")


@pytest.mark.parametrize(("text", "value"), READ.items())
def test_reads(text: str, value: str) -> None:
    assert read_number(text) == Fraction(value)


@pytest.mark.parametrize("text", REFUSED)
def test_refuses_in_one_sentence(text: str) -> None:
    with pytest.raises(NumberError) as refusal:
        read_number(text)
    assert len(str(refusal.value)) < 140 and "\n" not in str(refusal.value)


def test_a_comma_with_three_digits_behind_it_is_explained() -> None:
    with pytest.raises(NumberError, match="write 18000 or 18.000"):
        read_number("18,000")


def test_the_page_reads_and_refuses_alike(scripts: Page) -> None:
    texts = [*READ, *REFUSED]
    theirs = scripts.run("data.map(text => attempt(() => plainValue(ClockRef.number.read(text))))", texts)
    assert theirs == [_read(text) for text in texts]


def _read(text: str) -> object:
    try:
        return str(read_number(text))
    except NumberError as error:
        return {"error": str(error)}


def _decimals() -> list[str]:
    chance = random.Random(1656)
    ties = [f"{chance.randint(-10**6, 10**6) / 8:.6f}" for _ in range(400)]
    return ties + [f"{chance.uniform(-1, 1) * 10 ** chance.randint(-8, 9):.9f}" for _ in range(1600)]


@pytest.mark.parametrize("places", range(7))
def test_rounds_halves_away_from_zero_as_decimal_does(places: int) -> None:
    for text in _decimals():
        expected = Decimal(text).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
        assert Decimal(number.fixed(Fraction(text), places)) == expected, text


def test_a_zero_that_was_rounded_has_no_minus() -> None:
    assert number.fixed(Fraction(-1, 1000), 2) == "0.00"


PRINTED = {
    "fixed(8825.142857, 2)": (number.fixed, 8825.142857, 2, "8825.14"), "fixed(0.125, 2)": (number.fixed, 0.125, 2, "0.13"),
    "significant(0.00123456, 3)": (number.significant, 0.00123456, 3, "0.00123"), "significant(999.96, 4)": (number.significant, 999.96, 4, "1000"),
    "compact(3.086e-6, 7)": (number.compact, 3.086e-6, 7, "3.086e-6"), "compact(1e15, 7)": (number.compact, 1e15, 7, "1e15"),
    "compact(9999999.96, 7)": (number.compact, 9999999.96, 7, "10000000"), "compact(0, 7)": (number.compact, Fraction(0), 7, "0"),
    "compact(999999999999.9, 7)": (number.compact, 999999999999.9, 7, "1e12"),
}


@pytest.mark.parametrize(("work", "value", "figures", "text"), PRINTED.values(), ids=PRINTED)
def test_prints(work: object, value: float, figures: int, text: str) -> None:
    assert work(value, figures) == text


@pytest.mark.parametrize(("plain", "shown"), [("-8825.14", "\u22128825.14"), ("43200", "43\u202f200"), ("3.1e-6", "3.1\u00a0×\u00a010⁻⁶"), ("1234567.5", "1\u202f234\u202f567.5")])
def test_pages_show_a_true_minus_and_narrow_blanks(plain: str, shown: str) -> None:
    assert number.for_page(plain) == shown


def test_the_page_prints_alike(scripts: Page) -> None:
    texts = _decimals()
    floats = [float(text) for text in texts] + [0.1 + 0.2, 1 / 3, 2 / 3, 1e-300, 1.7e308, 5e-324, 123456789012.5, 100000000000.5, -100000000000.5]
    theirs = scripts.run(
        "[data[0].map(text => { const x = ClockRef.number.read(text); return [ClockRef.number.fixed(x, 3), ClockRef.number.significant(x, 4), ClockRef.number.inWorking(x)]; }),"
        " data[1].map(x => [ClockRef.number.fixed(x, 3), ClockRef.number.significant(x, 4), ClockRef.number.compact(x), ClockRef.number.forPage(ClockRef.number.inWorking(x))])]",
        [texts, floats],
    )
    exact = [Fraction(text) for text in texts]
    assert theirs[0] == [[number.fixed(x, 3), number.significant(x, 4), number.in_working(x)] for x in exact]
    assert theirs[1] == [[number.fixed(x, 3), number.significant(x, 4), number.compact(x), number.for_page(number.in_working(x))] for x in floats]


def test_the_page_makes_the_same_floats(scripts: Page) -> None:
    chance = random.Random(1675)
    ratios = [f"{chance.randint(-10**30, 10**30)}/{chance.randint(1, 10 ** chance.randint(1, 35))}" for _ in range(2000)] + ["1/3", "9007199254740993/1", "1/9007199254740993"]
    theirs = scripts.run("data.map(text => { const [n, d] = text.split('/').map(BigInt); return ClockRef.number.toFloat(ClockRef.number.rational(n, d)); })", ratios)
    assert [float(their) for their in theirs] == [float(Fraction(text)) for text in ratios]


@pytest.mark.parametrize(("text", "size"), [("8825.14", "0.01"), ("3600", "1"), ("39 1/8", "1/8"), ("9.04e-05", "0.0000001"), ("39,14", "0.01")])
def test_the_last_digit_sets_the_allowed_difference(text: str, size: str, scripts: Page) -> None:
    assert number.last_digit(text) == Fraction(size)
    assert scripts.run("plainValue(ClockRef.number.lastDigit(data))", text) == str(Fraction(size))
