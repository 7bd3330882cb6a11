"""Answers a calculation from what was typed: works it out, solves for the field left blank, or compares.

Inputs and results are named alike. With every input known the results follow; with one input blank and a result given,
the blank is solved for; with everything given, the answer says whether it agrees.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from fractions import Fraction
from typing import TYPE_CHECKING

from build_tools.calculate import Outcome, evaluate, read_all, resolved, result_by, typed_or_default, unit_of, units_of
from build_tools.formula.evaluate import Value
from build_tools.given import UNKNOWN, Figure, GivenError, accepted, read_figure, read_given, read_train
from build_tools.number import NumberError, compact, read_number
from build_tools.solve import Gives, Solved, among, between
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation
    from build_tools.model_parts import Input

MOST_TEETH_TRIED = 400
LONGEST_RANGE = 20000


class NoAnswer(ValueError):
    """The question is understood and has no answer; one sentence says why."""


@dataclass(frozen=True)
class Answer:
    """The inputs used, what they give, the field solved for (or ""), and whether given results agree."""
    inputs: Mapping[str, Value]
    outcome: Outcome
    blank: str = ""
    solved: Solved | None = None
    agreement: Mapping[str, bool] = field(default_factory=dict)


def answer(calculation: Calculation, typed: Mapping[str, str], library: Library) -> Answer:
    """Answers from texts by field name. Raises GivenError for a wrong field, NoAnswer when nothing answers."""
    calculation = resolved(calculation, library)
    _check_names(calculation, typed)
    units = units_of(library)
    wanted = {
        step.name: _read_wanted(calculation, step.name, typed[step.name], units)
        for step in calculation.steps if typed.get(step.name, "").strip()
    }
    blanks = blank_fields(calculation, typed, bool(wanted))
    if not blanks:
        return _worked(calculation, read_all(calculation, typed, library), wanted, library)
    if not wanted:
        return _missing(calculation, blanks, typed, units)
    if len(blanks) > 1:
        raise GivenError(blanks[1].name, f"{' and '.join(blank.name for blank in blanks)} are both open; give all but one, and that one is solved for")
    return _solve(calculation, blanks[0], typed, wanted, library)


def _check_names(calculation: Calculation, typed: Mapping[str, str]) -> None:
    known = [part.name for part in (*calculation.inputs, *calculation.steps)]
    for name in typed:
        if name not in known:
            near = get_close_matches(name, known, 1)
            raise GivenError(name, f"{calculation.id} has no field of this name; " + (f"did you mean {near[0]}?" if near else f"its fields are {', '.join(known)}"))


def blank_fields(calculation: Calculation, typed: Mapping[str, str], solving: bool) -> list[Input]:
    """The inputs that are open: without a value, or a train with a "?".

    An input with a default counts as open only when it was left blank on purpose and nothing else is open.
    """
    texts = {each.name: typed.get(each.name, "").strip() for each in calculation.inputs}
    open_fields = [
        each for each in calculation.inputs
        if not (texts[each.name] or each.default or each.optional) or (each.type == "train" and UNKNOWN in texts[each.name])
    ]
    if open_fields or not solving:
        return open_fields
    return [each for each in calculation.inputs if each.name in typed and not texts[each.name]]


def _missing(calculation: Calculation, blanks: list[Input], typed: Mapping[str, str], units: Units) -> Answer:
    first = blanks[0]
    results = ", ".join(result.name for result in calculation.results)
    what = "has an open count" if typed.get(first.name, "").strip() else "is missing"
    further = "" if calculation.procedure else f"; to solve for it give a result too ({results})"
    raise GivenError(first.name, f"{first.label} {what}; accepted: {accepted(first, units)}{further}")


def _read_wanted(calculation: Calculation, name: str, text: str, units: Units) -> Figure:
    unit = unit_of(calculation, name)
    try:
        return read_figure(text, unit, units)
    except NumberError as error:
        raise GivenError(name, f"{error}; accepted: a number {units.symbol(unit)}".rstrip()) from None


def _worked(calculation: Calculation, inputs: Mapping[str, Value], wanted: Mapping[str, Figure], library: Library) -> Answer:
    try:
        outcome = evaluate(calculation, inputs, library)
    except NumberError as error:
        raise NoAnswer(str(error)) from None
    return Answer(inputs, outcome, agreement={name: each.agrees(outcome.values[name]) for name, each in wanted.items()})


def _solve(calculation: Calculation, blank: Input, typed: Mapping[str, str], wanted: Mapping[str, Figure], library: Library) -> Answer:
    units = units_of(library)
    known = {
        each.name: read_given(each, typed_or_default(each, typed, units), units)
        for each in calculation.inputs if each is not blank
    }
    target, aim = next(iter(wanted.items()))
    solved = _search(blank, typed.get(blank.name, ""), result_by(calculation, known, blank, target), aim, units)
    if solved.many:
        least, most = solved.many
        raise NoAnswer(f"{blank.label}: every value from {compact(least, 6)} to {compact(most, 6)} fits; one more measurement is needed")
    if not solved.best:
        raise NoAnswer(f"{blank.label}: no value within its range can be worked out")
    inputs = {each.name: solved.best.value if each is blank else known[each.name] for each in calculation.inputs}
    worked = _worked(calculation, inputs, wanted, library)
    return Answer(inputs, worked.outcome, blank.name, solved, worked.agreement)


def _search(blank: Input, text: str, gives: Gives, aim: Figure, units: Units) -> Solved:
    match blank.type:
        case "train":
            if UNKNOWN not in text:
                raise GivenError(blank.name, "a whole train can't be solved for; write it with ? for the one count that is lost, such as 84/7 ?/7")
            if text.count(UNKNOWN) > 1:
                raise GivenError(blank.name, "only one count can be solved for; write ? once")
            return among(_trains(blank, text), gives, aim.value, aim.allowed)
        case "whole":
            return among(_whole_numbers(blank), gives, aim.value, aim.allowed)
        case "choice":
            return among([choice.value for choice in blank.choices], gives, aim.value, aim.allowed)
        case "number":
            return between(read_number(blank.minimum), read_number(blank.maximum), gives, aim.value)
    raise GivenError(blank.name, f"{blank.label} can't be solved for; accepted: {accepted(blank, units)}")


def _trains(blank: Input, text: str) -> list[Value]:
    try:
        return [read_train(text, teeth) for teeth in range(2, MOST_TEETH_TRIED + 1)]
    except NumberError as error:
        raise GivenError(blank.name, str(error)) from None


def _whole_numbers(blank: Input) -> list[Value]:
    least, most = int(read_number(blank.minimum)), int(read_number(blank.maximum))
    return [Fraction(number) for number in range(least, min(most, least + LONGEST_RANGE) + 1)]
