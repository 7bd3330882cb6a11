"""Reads what a visitor puts into a calculation, field by field, and says in one sentence what is wrong with it."""
from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.compass import letters
from build_tools.formula.evaluate import Mesh, Train, Value
from build_tools.formula.special import read_date
from build_tools.number import Number, NumberError, in_working, last_digit, read_number, settled
from build_tools.typed import UNKNOWN, figure_text, list_pieces
from build_tools.units import Units, last_piece, read_quantity

if TYPE_CHECKING:
    from build_tools.model_parts import Input

MOST_MESHES = 12
MOST_TEETH = 3000
MOST_VALUES = 200
_MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december")
_DATES = [re.compile(pattern, re.ASCII) for pattern in (
    r"(?P<year>[0-9]{4})[-/. ](?P<month>[0-9]{1,2})[-/. ](?P<day>[0-9]{1,2})",
    r"(?P<day>[0-9]{1,2})(?:\.|st|nd|rd|th)? (?:of )?(?P<month>[A-Za-z]{3,9})\.?,? (?P<year>[0-9]{4})",
    r"(?P<month>[A-Za-z]{3,9})\.? (?P<day>[0-9]{1,2})(?:st|nd|rd|th)?,? (?P<year>[0-9]{4})",
    r"(?P<day>1[3-9]|2[0-9]|3[01])[-/.](?P<month>[0-9]{1,2})[-/.](?P<year>[0-9]{4})",
)]
_SIDE = r"\s*((?:[0-9]+|\?)(?:[\s,;×·*x]+(?:[0-9]+|\?))+)\s*"
_ALL_OVER_ALL = re.compile(f"{_SIDE}[/:]{_SIDE}")
_PINION_FIRST = re.compile(r"([0-9]+|\?)\s*\)\s*([0-9]+|\?)")  # "8) 80", as Derham and the encyclopaedias write a wheel of 80 on a pinion of 8
_BRACKETS = str.maketrans("()", "  ")
_BETWEEN_MESHES = re.compile(r"(?:[\s,;·]|\band\b|(?<=[0-9?\s])[xX×*](?=[\s0-9?]))+")
_MESH = re.compile(r"([0-9]+|\?)\s*[/:]\s*([0-9]+|\?)")


class GivenError(ValueError):
    """One sentence about one field: what is wrong and what is accepted; `others` speak of further fields."""

    def __init__(self, field: str, sentence: str, others: tuple[GivenError, ...] = ()) -> None:
        super().__init__(f"{field}: {sentence}")
        self.field = field
        self.sentence = sentence
        self.others = others


@dataclass(frozen=True)
class Figure:
    """A result that somebody states: its value in the unit of its step, and how far off still agrees."""
    value: Number
    allowed: Number

    def agrees(self, value: Value) -> bool:
        """Whether a worked value lies within the allowed distance."""
        return abs(settled(value) - settled(self.value)) <= settled(self.allowed)


def read_figure(text: str, unit: str, units: Units, tolerance: str = "") -> Figure:
    """Reads "8825.14" or "6.5 in" for a step counted in `unit`: half of the last digit is allowed, or the tolerance.

    Raises NumberError.
    """
    value, typed_unit = read_quantity(text, unit, units)
    if tolerance:
        allowed, own_unit = read_quantity(tolerance, unit, units)
        return Figure(value, allowed if own_unit or not typed_unit else units.convert(allowed, typed_unit, unit))
    last, spelling = last_piece(text, unit)
    half = last_digit(last) / 2
    if not spelling:
        return Figure(value, half)
    found = units.find(spelling, unit).name
    if units[found].base == units[unit].base:
        return Figure(value, units.convert(half, found, unit))
    return Figure(value, abs(value * half / read_number(last)))


def read_given(field: Input, text: str, units: Units) -> Value:
    """The value of an input, in the input's own unit; raises GivenError."""
    try:
        return _READERS[field.type](field, text.strip(), units)
    except NumberError as error:
        raise GivenError(field.name, f"{error}; accepted: {accepted(field, units)}") from None


def _number(field: Input, text: str, units: Units) -> Number:
    figure, sign = figure_text(field, text, units)
    value, _ = read_quantity(figure, field.unit, units)
    return within(field, sign * value, units)


def _whole(field: Input, text: str, units: Units) -> Number:
    value = _number(field, text, units)
    if Fraction(value).denominator != 1:
        raise NumberError(f"{text} is not a whole number")
    return value


def within(field: Input, value: Number, units: Units) -> Number:
    """The value itself; raises NumberError when it lies outside the limits of the input."""
    unit = f" {units.symbol(field.unit)}" if field.unit else ""
    if field.minimum and value < read_number(field.minimum):
        raise NumberError(f"{in_working(value)}{unit} is too small")
    if field.maximum and value > read_number(field.maximum):
        raise NumberError(f"{in_working(value)}{unit} is too large")
    return value


def read_train(text: str, unknown: int = 0) -> Train:
    """Reads "84/7 78/7", driver over driven; a "?" stands for `unknown` when that is given. Raises NumberError."""
    text = _PINION_FIRST.sub(r"\2/\1", text).translate(_BRACKETS)
    pieces = _paired(text) or [piece for piece in _BETWEEN_MESHES.split(re.sub(r"\s*([/:])\s*", r"\1", text)) if piece]
    if not pieces:
        raise NumberError("write at least one wheel and the pinion it drives, such as 84/7")
    if len(pieces) > MOST_MESHES:
        raise NumberError(f"a train of {len(pieces)} meshes is too long: {MOST_MESHES} are the most")
    return tuple(_mesh(piece, unknown) for piece in pieces)


def _paired(text: str) -> list[str]:
    """The meshes of "84 × 78 / 7 × 7", all wheels over all pinions; [] for anything else."""
    match = _ALL_OVER_ALL.fullmatch(text)
    wheels, pinions = (re.findall(r"[0-9]+|\?", side) for side in match.groups()) if match else ([], [])
    return [f"{wheel}/{pinion}" for wheel, pinion in zip(wheels, pinions)] if len(wheels) == len(pinions) else []


def _mesh(piece: str, unknown: int) -> Mesh:
    match = _MESH.fullmatch(piece)
    if not match:
        raise NumberError(f"'{piece[:40]}' is not a wheel over the pinion that it drives")
    if not unknown and UNKNOWN in piece:
        raise NumberError(f"'{piece}' leaves a count open")
    driver, driven = (unknown if count == UNKNOWN else int(count[:9]) for count in match.groups())
    if max(driver, driven) > MOST_TEETH:
        raise NumberError(f"'{piece[:40]}' has too many teeth: {MOST_TEETH} are the most")
    if driver < 1:
        raise NumberError(f"'{piece}': a driver without teeth drives nothing")
    if driven < 1:
        raise NumberError(f"'{piece}': a pinion of {driven} leaves can't be driven")
    if driven == 1 < driver and match[2] != UNKNOWN:
        raise NumberError(f"'{piece}': a pinion of one leaf can't be driven; count the leaves again, or write a quotient with more, such as 50/10 for 5")
    return Mesh(driver, driven)


def read_counts(text: str) -> tuple[int, ...]:
    """Reads counts and ranges of counts, "6-12 14 16", in rising order, each once. Raises NumberError."""
    pieces = [piece for piece in re.split(r"[\s,;]+", re.sub(r"\s*(?:[-–—]|\bto\b)\s*", "-", text.strip())) if piece]
    counts: set[int] = set()
    for piece in pieces:
        match = re.fullmatch(r"([0-9]{1,9})(?:-([0-9]{1,9}))?", piece)
        if not match:
            raise NumberError(f"'{piece[:40]}' is neither a count nor a range of counts")
        first, last = int(match[1]), int(match[2] or match[1])
        if first > last:
            raise NumberError(f"'{piece[:40]}' runs backwards: write the smaller count first")
        if first < 1 or last > MOST_TEETH:
            raise NumberError(f"'{piece[:40]}' is out of range: counts go from 1 to {MOST_TEETH}")
        counts.update(range(first, last + 1))
    if not counts:
        raise NumberError("write at least one count")
    return tuple(sorted(counts))


def _counts(field: Input, text: str, units: Units) -> str:
    for count in read_counts(text):
        within(field, Fraction(count), units)
    return " ".join(text.split())


def read_lost_train(text: str) -> Train:
    """Reads a train in which lost counts are written as ?; those come out as 0. Raises NumberError."""
    readings = zip(read_train(text, MOST_TEETH), read_train(text, MOST_TEETH - 1))
    return tuple(Mesh(*(count if count == other else 0 for count, other in zip(*meshes))) for meshes in readings)


def _lost_train(field: Input, text: str, units: Units) -> str:
    return " ".join("/".join(str(count or UNKNOWN) for count in mesh) for mesh in read_lost_train(text))


def _train(field: Input, text: str, units: Units) -> Train:
    return read_train(text)


def _choice(field: Input, text: str, units: Units) -> str:
    wanted = _letters(text)
    names = {choice.value: (_letters(choice.value), _letters(choice.label)) for choice in field.choices}
    meant = [value for value, each in names.items() if wanted in each] or [value for value, each in names.items() if wanted and any(name.startswith(wanted) for name in each)]
    if len(meant) == 1:
        return meant[0]
    raise NumberError(f"'{text[:40]}' may be {' or '.join(meant)}" if meant else f"'{text[:40]}' is not among the choices")


def _letters(text: str) -> str:
    """What tells one choice from another: letters and figures, small, without blanks, hyphens and points."""
    return re.sub(r"[^\w+]|_", "", text).lower()


def _date(field: Input, text: str, units: Units) -> str:
    return read_date(_year_first(text)).isoformat()


def _year_first(text: str) -> str:
    """The text as year-month-day where it can be read in one way only; anything else as it is."""
    for pattern in _DATES:
        match = pattern.fullmatch(text)
        if not match:
            continue
        day, month, year = (match[part] for part in ("day", "month", "year"))
        places = [place for place, name in enumerate(_MONTHS, 1) if len(month) > 2 and name.startswith(month.lower())]
        return f"{year}-{int(places[0] if places else month):02}-{int(day):02}" if places or month.isdigit() else text
    return text


def _list(field: Input, text: str, units: Units) -> tuple[Number, ...]:
    pieces = list_pieces(field, text, units)
    if not pieces:
        raise NumberError("write at least one number")
    if len(pieces) > MOST_VALUES:
        raise NumberError(f"{len(pieces)} numbers are too many: {MOST_VALUES} are the most")
    return tuple(within(field, read_number(piece), units) for piece in pieces)


_READERS = {"number": _number, "whole": _whole, "train": _train, "choice": _choice, "date": _date, "list": _list, "counts": _counts, "lost-train": _lost_train}


def accepted(field: Input, units: Units) -> str:
    """What an input takes, in words: "a whole number from 2 to 400"."""
    match field.type:
        case "train":
            return "driver/driven for each mesh, such as 84/7 78/7"
        case "lost-train":
            return "driver/driven for each mesh, with ? for a lost count, such as 84/7 ?/7"
        case "counts":
            return "counts and ranges of counts, such as 6-12 14 16"
        case "choice":
            return " or ".join(choice.value for choice in field.choices)
        case "date":
            return "a date such as 2026-11-25 or 25 November 2026"
    kind = {"whole": "a whole number", "list": "numbers with blanks between them"}.get(field.type, "a number")
    limits = f" from {field.minimum} to {field.maximum}" if field.minimum and field.maximum else ""
    unit = f"{', in' if field.type == 'list' else ''} {units.symbol(field.unit)}" if field.unit else ""
    offered = ", ".join(_named(name, units) for name in (field.unit, *field.also)) if field.also else ""
    direction = f", or with {letters(field.compass)} beside it" if field.compass else ""
    return f"{kind}{limits}{unit}{direction}" + (f"; units: {offered}" if offered else "")


def _named(unit: str, units: Units) -> str:
    """A unit as it is typed, and as it is printed where that is different: "1/h (per hour)"."""
    shown = units.symbol(unit)
    return unit if shown == unit else f"{unit} ({shown})"


def choice_numbers(field: Input, chosen: str) -> Mapping[str, Fraction]:
    """The numbers that a choice brings into the formulas."""
    choice = next(choice for choice in field.choices if choice.value == chosen)
    return {name: read_number(number) for name, number in choice.sets.items()}
