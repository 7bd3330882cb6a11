"""Numbers as the bench writes them: exact while they can be, rounded and printed in one way.

A number is a `Fraction` while it comes from counts and typed decimals, and a `float` once a root or an angle
enters. `docs/js/number.js` is the twin of this module; both run the same vectors in the tests.
"""
from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Context
from fractions import Fraction
from functools import lru_cache

Number = Fraction | float

FIGURES = 12
"""Figures kept of a float before it is rounded, compared or printed, so that both languages agree."""
LONGEST = 40
LARGEST_EXPONENT = 30
LARGEST_BITS = 4096
"""An exact number beyond this size is carried on as a float."""

NARROW_SPACE = "\u202f"
MINUS = "\u2212"
_TWELVE = Context(prec=FIGURES, rounding=ROUND_HALF_UP)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_DECIMAL = re.compile(r"(\d+(?:\.\d*)?|\.\d+)(?:[eE]([+-]?\d{1,3}))?", re.ASCII)
_MIXED = re.compile(r"(?:(\d+)[ -])?(\d+) ?/ ?(\d+)", re.ASCII)
_SPACED = re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d*)?", re.ASCII)
_COMMAS = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d*)?", re.ASCII)
_COMMA = re.compile(r"\d*,\d+(?:[eE][+-]?\d{1,3})?", re.ASCII)
_QUOTIENT = re.compile(r"(\d+(?:\.\d+)?) ?/ ?(\d+(?:\.\d+)?)", re.ASCII)
_SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


class NumberError(ValueError):
    """One sentence that says what is wrong with a number and what to write instead."""


@lru_cache(maxsize=4096)
def read_number(text: str) -> Fraction:
    """Reads "29.5", "7 1/2", "39-1/8", "39,14", "39·14", "18 000", "366.24/365.24" or "3.1e-6"; raises NumberError in one sentence."""
    plain = _plain(text)
    if not plain:
        raise NumberError("a number is missing here")
    if len(plain) > LONGEST:
        raise NumberError(f"a number of {len(plain)} characters is too long: write at most {LONGEST}")
    sign = -1 if plain[0] == "-" else 1
    return sign * _read_unsigned(plain.lstrip("+-") if plain[0] in "+-" and plain[1:2] not in "+-" else plain, text.strip())


def _plain(text: str) -> str:
    """The text with one kind of minus, blank and fraction."""
    for old in (MINUS, "\u2013"):
        text = text.replace(old, "-")
    text = re.sub(r"·(?=\d)", ".", text)  # the raised point of British books
    for sign, written in _VULGAR.items():
        text = text.replace(sign, f" {written}")
    text = re.sub(r"[\s\u00a0\u2009\u202f]+", " ", text).strip()
    return re.sub(r"^([+-]) ", r"\1", text)


def _read_unsigned(plain: str, typed: str) -> Fraction:
    mixed = _MIXED.fullmatch(plain)
    if mixed:
        return _mixed(mixed, typed)
    quotient = _QUOTIENT.fullmatch(plain)
    if quotient:
        return Fraction(quotient[1]) / _not_nothing(Fraction(quotient[2]), typed)
    if _SPACED.fullmatch(plain):
        return Fraction(plain.replace(" ", "").replace(",", "."))
    decimal = _DECIMAL.fullmatch(_without_commas(plain, typed))
    if not decimal:
        raise NumberError(f"'{typed[:LONGEST]}' is not a number: write it like 29.5, 7 1/2 or 39,14")
    exponent = int(decimal[2] or 0)
    if abs(exponent) > LARGEST_EXPONENT:
        raise NumberError(f"{typed} is out of range: powers of ten go from -{LARGEST_EXPONENT} to {LARGEST_EXPONENT}")
    return Fraction(decimal[1] if decimal[1][-1] != "." else decimal[1][:-1]) * Fraction(10) ** exponent


def _mixed(match: re.Match[str], typed: str) -> Fraction:
    return int(match[1] or 0) + int(match[2]) / _not_nothing(Fraction(match[3]), typed)


def _not_nothing(divisor: Fraction, typed: str) -> Fraction:
    if divisor == 0:
        raise NumberError(f"{typed} divides by nothing: the lower number must not be 0")
    return divisor


def _without_commas(plain: str, typed: str) -> str:
    if "," not in plain:
        return plain
    single = plain.count(",") == 1 and "." not in plain
    if single and _COMMAS.fullmatch(plain) and not plain.startswith("0"):
        whole = plain.replace(",", "")
        raise NumberError(f"{typed} can be read in two ways: write {whole} or {plain.replace(',', '.')}")
    if single and _COMMA.fullmatch(plain):
        return plain.replace(",", ".")
    if _COMMAS.fullmatch(plain):
        return plain.replace(",", "")
    return plain


def last_digit(text: str) -> Fraction:
    """The size of the last digit of a number as it stands: 0.01 for "8825.14", 1/8 for "39 1/8", 1 for "3600"."""
    plain = _plain(text).replace(",", ".")
    mixed = re.search(r"/ ?(\d+)$", plain)
    if mixed:
        return Fraction(1, int(mixed[1]) or 1)
    decimals = re.search(r"\.(\d*)", plain)
    exponent = re.search(r"[eE]([+-]?\d+)$", plain)
    return Fraction(10) ** ((int(exponent[1]) if exponent else 0) - (len(decimals[1]) if decimals else 0))


def settled(value: Number) -> Fraction:
    """The number that rounding, comparing and printing see: a float is first cut to twelve figures."""
    if type(value) is Fraction:
        return value
    if not isinstance(value, float):
        raise NumberError("a number is wanted where a word or a list stands")
    if not math.isfinite(value):
        raise NumberError("the sum runs out of the range of numbers")
    return Fraction(_TWELVE.create_decimal(value))


def bounded(value: Fraction) -> Number:
    """The exact number, or its float when numerator or denominator has grown past LARGEST_BITS."""
    if max(value.numerator.bit_length(), value.denominator.bit_length()) <= LARGEST_BITS:
        return value
    return as_float(value)


def as_float(value: Number) -> float:
    """The nearest float; raises NumberError when there is none."""
    if type(value) is float:
        return value
    try:
        if type(value) is Fraction:
            top, bottom = value.as_integer_ratio()
            return top / bottom
        return float(value)
    except OverflowError:
        raise NumberError("the sum runs out of the range of numbers") from None
    except (TypeError, ValueError):
        raise NumberError("a number is wanted where a word or a list stands") from None


def round_half_away(value: Number, decimals: int = 0) -> Fraction:
    """Rounds to so many decimals, halves away from zero (a negative count rounds to tens, hundreds …)."""
    last_digits = _in_last_digits(value, decimals)
    return Fraction(last_digits, 10**decimals) if decimals > 0 else Fraction(last_digits * 10**-decimals)


def _in_last_digits(value: Number, decimals: int) -> int:
    """The value in units of its last decimal, to the nearest whole number of them, halves away from zero."""
    top, bottom = settled(value).as_integer_ratio()
    if decimals > 0:
        top *= 10**decimals
    else:
        bottom *= 10**-decimals
    size = (2 * abs(top) + bottom) // (2 * bottom)
    return size if top >= 0 else -size


def fixed(value: Number, decimals: int) -> str:
    """Prints with so many decimals: fixed(8825.142857, 2) is "8825.14"."""
    last_digits = _in_last_digits(value, decimals)
    if decimals > 0:
        digits = str(abs(last_digits)).rjust(decimals + 1, "0")
        text = f"{digits[:-decimals]}.{digits[-decimals:]}"
    else:
        text = str(abs(last_digits) * 10**-decimals)
    return f"-{text}" if last_digits < 0 else text


def significant(value: Number, figures: int) -> str:
    """Prints with so many figures: significant(0.00123456, 3) is "0.00123"."""
    exact = settled(value)
    if exact == 0:
        return "0"
    decimals = figures - 1 - magnitude(exact)
    if magnitude(round_half_away(exact, decimals)) != magnitude(exact):
        decimals -= 1
    return fixed(exact, decimals)


def magnitude(value: Fraction) -> int:
    """The power of ten of the first figure: 3 for 8825, -3 for 0.00123. The value is not 0."""
    top, bottom = abs(value).as_integer_ratio()
    power = len(str(top)) - len(str(bottom))
    reached = top >= bottom * 10**power if power > 0 else top * 10**-power >= bottom
    return power if reached else power - 1


def compact(value: Number, figures: int = 7) -> str:
    """Prints as short as the working wants it: "33", "0.125", "8825.143", "3.086e-6"."""
    exact = settled(value)
    if exact == 0:
        return "0"
    power = magnitude(round_half_away(exact, figures - 1 - magnitude(exact)))
    if power < -5 or power >= FIGURES:
        return f"{_trimmed(significant(exact / Fraction(10) ** power, figures))}e{power}"
    if exact.denominator == 1:
        return str(exact.numerator)
    return _trimmed(significant(exact, max(figures, power + 1)))


def plain_decimal(value: Number) -> str:
    """Prints to twelve figures without needless zeros, for another program to read."""
    return compact(value, FIGURES)


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def for_page(text: str) -> str:
    """A printed number as pages show it: a true minus, narrow blanks in long whole parts, powers of ten raised."""
    mantissa, _, exponent = text.partition("e")
    sign, digits = (MINUS, mantissa[1:]) if mantissa.startswith("-") else ("", mantissa)
    whole, point, rest = digits.partition(".")
    if len(whole) > 4 and whole.isdigit():
        whole = f"{int(whole):,}".replace(",", NARROW_SPACE)
    raised = f"\u00a0×\u00a010{exponent.translate(_SUPERSCRIPTS)}" if exponent else ""
    return f"{sign}{whole}{point}{rest}{raised}"


def in_working(value: Number) -> str:
    """Prints a number as the working shows it: all of a plain decimal, seven figures of anything else."""
    plain = isinstance(value, Fraction) and 10**FIGURES % value.denominator == 0
    return compact(value, FIGURES if plain else 7)
