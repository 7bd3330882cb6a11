"""Calculations: every printed figure, the worked examples, what is refused, and that the page says the same. `test_solve.py` has the blanks."""
from __future__ import annotations

import random
from fractions import Fraction

import pytest

from build_tools.answer import NoAnswer, answer
from build_tools.calculate import calculations, evaluate, read_all, tree
from build_tools.formula.mathml import layout, with_numbers
from build_tools.formula.plain import written
from build_tools.given import GivenError
from build_tools.library import Library
from build_tools.model import Calculation
from build_tools.number import NumberError, as_float, read_number
from build_tools.published import judge
from tests.javascript import Page
from tests.knowledge import read_once

LIBRARY, _ = read_once()
ALL = calculations(LIBRARY)
WORKED = [entry for entry in ALL if entry.steps]
CHECKS = [pytest.param(entry, check, id=f"{entry.id}#{check.source.partition(':')[2]}-{number}") for entry in ALL for number, check in enumerate(entry.checks, 1)]


@pytest.mark.parametrize(("calculation", "check"), CHECKS)
def test_printed_figure(calculation: Calculation, check: object, library: Library) -> None:
    for judgement in judge(calculation, check.given, check.expect, library):
        assert judgement.sound, judgement
        assert judgement.verdict != "misprint" or not judgement.agrees


@pytest.mark.parametrize("calculation", ALL, ids=lambda entry: entry.id)
def test_has_two_checks_from_outside(calculation: Calculation) -> None:
    assert len(calculation.checks) >= 2


@pytest.mark.parametrize("calculation", WORKED, ids=lambda entry: entry.id)
def test_usual_ranges_can_be_worked(calculation: Calculation, library: Library) -> None:
    for end in (0, -1):
        typed = {field.name: field.usual[end] if field.usual else field.example for field in calculation.inputs}
        try:
            assert evaluate(calculation, read_all(calculation, typed, library), library).shown
        except NumberError as error:
            assert len(str(error)) < 160


# The page against Python

def ours(calculation: Calculation, typed: dict[str, str], library: Library) -> dict[str, object]:
    """What Python answers, as plain data in the shape of the page's helper; the page has no need to say that a result may be given."""
    try:
        found = answer(calculation, typed, library)
    except GivenError as error:
        return {"error": error.sentence.partition("; to solve for it")[0]}
    except (NoAnswer, NumberError) as error:
        return {"error": str(error)}
    return {
        "inputs": {name: found.written(name) for name in found.inputs},
        "shown": dict(found.outcome.shown),
        "tables": {name: [list(row) for row in rows] for name, rows in found.outcome.tables.items()},
        "also": {name: [list(each) for each in result.also] for name, result in found.outcome.results.items()},
        "unrounded": {name: [result.unrounded, result.spread] for name, result in found.outcome.results.items()},
        "working": [with_numbers(layout(tree(step.formula)), found.outcome.values) for step in calculation.steps],
        "blank": found.blank,
        "fits": [written(candidate.value) for candidate in found.solved.fits] if found.solved else [],
        "agreement": dict(found.agreement),
    }


def cases(calculation: Calculation, chance: random.Random, number: int) -> list[dict[str, str]]:
    """Inputs drawn over the whole range and its ends, in every unit that the form offers."""
    return [{field.name: _value(field, chance, draw) for field in calculation.inputs} for draw in range(number)]


def edges(calculation: Calculation) -> list[dict[str, str]]:
    """The worked example with one input at its least or its greatest, and just beyond."""
    example = {field.name: field.example or field.default for field in calculation.inputs}
    ends = [(field.name, end) for field in calculation.inputs for end in (field.minimum, field.maximum) if end]
    return [{**example, name: text} for name, end in ends for text in (end, _beyond(end, -1), _beyond(end, 1))]


def _beyond(end: str, direction: int) -> str:
    return written(read_number(end) + Fraction(direction, 10**6))


def _value(field: object, chance: random.Random, draw: int) -> str:
    if field.type == "choice":
        return field.choices[draw % len(field.choices)].value
    if field.type == "train":
        return " ".join(f"{chance.randint(1, 200)}/{chance.randint(2, 120)}" for _ in range(chance.randint(1, 4)))
    if field.type == "list":
        return " ".join(f"{chance.uniform(as_float(read_number(field.minimum)), as_float(read_number(field.maximum))):.2f}" for _ in field.example.split())
    if field.type == "date":
        return f"{chance.randint(1900, 2100)}-{chance.randint(1, 12):02}-{chance.randint(1, 28):02}"
    least, most = as_float(read_number(field.minimum)), as_float(read_number(field.maximum))
    if draw < 2:
        return (field.minimum, field.maximum)[draw]
    if field.type == "whole":
        return str(chance.randint(int(least), int(min(most, least + 500))))
    low, high = (as_float(read_number(end)) for end in field.usual) if field.usual else (least, most)
    text = f"{chance.uniform(low, high):.{chance.randint(0, 6)}f}"
    return text if not field.also or draw % 3 else f"{text} {chance.choice(field.also)}"


def mismatches(calculation: Calculation, typed: list[dict[str, str]], library: Library, scripts: Page, mine: list[dict[str, object]] | None = None) -> list[object]:
    """Where the page differs from Python, whose answers are `mine` if they are there already: a blank takes long to search for."""
    theirs = scripts.run("data[1].map(typed => { const found = answered(data[0], typed); delete found.values; return found; })", [calculation.id, typed])
    mine = mine or [ours(calculation, given, library) for given in typed]
    return [each for each in zip(typed, mine, theirs, strict=True) if each[1] != each[2]]


@pytest.mark.parametrize("calculation", WORKED, ids=lambda entry: entry.id)
def test_the_page_gives_the_same_to_the_last_printed_digit(calculation: Calculation, library: Library, scripts: Page) -> None:
    typed = [dict(check.given) for check in calculation.checks]
    typed += [{field.name: field.example for field in calculation.inputs}, *cases(calculation, random.Random(calculation.id), 150), *edges(calculation)]
    assert mismatches(calculation, typed, library, scripts) == []


BAD = ("", " ", "abc", "-1", "0", "1e30", "nan", "inf", "1/0", "5 kg", "7 7", "?", "84/7 ?/?", "84/0", "84/1", "84/7 " * 20, "9" * 50, "18,000", "84", "2026-13-01", "½", "-0")


@pytest.mark.parametrize("calculation", WORKED, ids=lambda entry: entry.id)
def test_bad_input_is_answered_alike_in_one_sentence(calculation: Calculation, library: Library, scripts: Page) -> None:
    good = {field.name: field.example for field in calculation.inputs}
    typed = [{**good, field.name: text} for field in calculation.inputs for text in BAD]
    typed += [{}, {calculation.inputs[0].name: good[calculation.inputs[0].name]}, *({**good, step.name: "?"} for step in calculation.steps)]
    mine = [ours(calculation, given, library) for given in typed]
    for found in mine:
        assert "\n" not in found.get("error", "") and len(found.get("error", "")) < 900
    assert mismatches(calculation, typed, library, scripts, mine) == []


# Clocks that can not be

IMPOSSIBLE = [("mainspring-turns", {"barrel": "10", "arbor": "20"}, "leaves no room for a spring"), ("mainspring-turns", {"length": "5000"}, "does not go into this barrel"),
    ("pallets", {"spanned": "15"}, "no place for their arbor"), ("rack-tail", {"one": "5.5"}, "counts nothing"), ("bob-mass", {"hole": "60"}, "leaves nothing of it"),
    ("coil-length", {"inside": "200"}, "have changed places"), ("quality-factor", {"last": "180"}, "must have become smaller"), ("beats-per-hour", {"meshes": "84/1 78/7"}, "a pinion of one leaf"),
    ("lost-wheel", {"meshes": "?/1"}, "a pinion of one leaf"), ("hours-of-run", {"barrel_turns": "0"}, "0 is too small"), ("hours-of-run", {"meshes": " "}, "is missing"),
]


@pytest.mark.parametrize(("name", "changed", "says"), IMPOSSIBLE)
def test_a_clock_that_can_not_be_is_explained(name: str, changed: dict[str, str], says: str, library: Library, scripts: Page) -> None:
    calculation = next(entry for entry in ALL if entry.id == name)
    typed = {field.name: field.example for field in calculation.inputs if field.example} | changed
    assert says in ours(calculation, typed, library)["error"]
    assert mismatches(calculation, [typed], library, scripts) == []
