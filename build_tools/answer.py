"""Answers a calculation from what was typed: works it out, solves for the field left blank, or compares.

Inputs and results are named alike. With every input known the results follow; with one input blank and a result given,
the blank is solved for; with everything given, the answer says whether it agrees.
"""
from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from fractions import Fraction
from functools import cache, cached_property
from typing import TYPE_CHECKING

from build_tools.calculate import Outcome, evaluate, read_all, resolved, result_by, typed_or_default, unit_of, units_of, work_steps
from build_tools.carried import Halves, found_spread, half, halves, spreads
from build_tools.formula.evaluate import Value
from build_tools.given import UNKNOWN, Figure, GivenError, accepted, read_figure, read_given
from build_tools.number import Number, NumberError, as_float, compact, read_number
from build_tools.printing import print_found
from build_tools.solve import Candidate, Solved
from build_tools.solve_open import WITH_SIGN, OpenField
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation
    from build_tools.model_parts import Input


class NoAnswer(ValueError):
    """The question is understood and has no answer; one sentence says why."""


@dataclass(frozen=True)
class Answer:
    """The inputs used, what they give, the field solved for (or ""), whether given results agree, and on demand how far off what was solved for may be."""
    inputs: Mapping[str, Value]
    outcome: Outcome
    blank: str = ""
    solved: Solved | None = None
    agreement: Mapping[str, bool] = field(default_factory=dict)
    doubt: Callable[[], Number] = int  # which gives 0

    @cached_property
    def spread(self) -> Number:
        """How far off the value may be that was solved for; 0 where nothing was."""
        return self.doubt()

    def written(self, name: str) -> str:
        """An input as it is printed: what was typed in full, what was solved for as far as the figures typed carry."""
        return print_found(self.inputs[name], self.spread if name == self.blank else 0)


def answer(calculation: Calculation, typed: Mapping[str, str], library: Library) -> Answer:
    """Answers from texts by field name. Raises GivenError for all fields that are wrong, NoAnswer when nothing answers."""
    calculation = resolved(calculation, library)
    _check_names(calculation, typed)  # alone: a field that seems missing may be the one whose name is misspelt
    typed = _blanks_left(calculation, typed)
    try:
        return _answer(calculation, typed, library)
    except GivenError as error:
        raise _with_others(error, calculation, typed, units_of(library)) from None


def _answer(calculation: Calculation, typed: Mapping[str, str], library: Library) -> Answer:
    units = units_of(library)
    wanted = {
        step.name: _read_wanted(calculation, step.name, typed[step.name], units)
        for step in calculation.steps if typed.get(step.name, "").strip()
    }
    blanks = blank_fields(calculation, typed, bool(wanted))
    if not blanks:
        inputs = read_all(calculation, typed, library)
        return _worked(calculation, inputs, wanted, library, lambda: halves(calculation, typed, inputs, units))
    if not wanted:
        alone = len(blanks) == 1 and not calculation.procedure
        raise _missing(blanks[0], typed, units, f"; to solve for it give a result too ({', '.join(result.name for result in calculation.results)})" if alone else "")
    if len(blanks) > 1:
        labels = [blank.label for blank in blanks]
        raise GivenError(blanks[1].name, f"{', '.join(labels[:-1])} and {labels[-1]} are {'both' if len(blanks) == 2 else 'all'} open; give all but one, and that one is solved for")
    return _solve(calculation, blanks[0], typed, wanted, library)


def _with_others(error: GivenError, calculation: Calculation, typed: Mapping[str, str], units: Units) -> GivenError:
    """The error, and behind it those of every other field that is wrong, in the order of the form."""
    solving = any(typed.get(step.name, "").strip() for step in calculation.steps)
    wrong = {error.field: error} | {each.field: each for each in _wrong(calculation, typed, solving, units) if each.field != error.field}
    order = [part.name for part in (*calculation.inputs, *calculation.steps)]
    first, *others = sorted(wrong.values(), key=lambda each: order.index(each.field))
    return GivenError(first.field, first.sentence, tuple(others))


def _wrong(calculation: Calculation, typed: Mapping[str, str], solving: bool, units: Units) -> Iterator[GivenError]:
    """What is wrong with each field by itself; one without a value is wrong where nothing is solved for."""
    missing = [] if solving else blank_fields(calculation, typed, solving)
    for each in calculation.inputs:
        text = typed.get(each.name, "").strip()
        try:
            if each in missing:
                yield _missing(each, typed, units)
            elif text and not (each.type in WITH_SIGN and UNKNOWN in text):
                read_given(each, text, units)
        except GivenError as error:
            yield error
    for step in calculation.steps:
        try:
            if typed.get(step.name, "").strip():
                _read_wanted(calculation, step.name, typed[step.name], units)
        except GivenError as error:
            yield error


def _check_names(calculation: Calculation, typed: Mapping[str, str]) -> None:
    known = [part.name for part in (*calculation.inputs, *calculation.steps)]
    for name in typed:
        if name not in known and any(result.name == name for result in calculation.results):
            raise GivenError(name, f"{calculation.id} finds this and can't be turned round; give the fields {', '.join(known)}")
        if name not in known:
            near = get_close_matches(name, known, 1)
            raise GivenError(name, f"{calculation.id} has no field of this name; " + (f"did you mean {near[0]}?" if near else f"its fields are {', '.join(known)}"))


def _blanks_left(calculation: Calculation, typed: Mapping[str, str]) -> dict[str, str]:
    """What was typed, with a lone "?" as the blank that it means; only trains, lists and dates keep theirs."""
    kept = {each.name for each in calculation.inputs if each.type in WITH_SIGN}
    return {name: "" if text.strip() == UNKNOWN and name not in kept else text for name, text in typed.items()}


def blank_fields(calculation: Calculation, typed: Mapping[str, str], solving: bool) -> list[Input]:
    """The inputs that are open: without a value, or with a "?" in a train, a list or a date.

    An input with a default counts as open only when it was left blank on purpose and nothing else is open.
    """
    texts = {each.name: typed.get(each.name, "").strip() for each in calculation.inputs}
    open_fields = [
        each for each in calculation.inputs
        if not (texts[each.name] or each.default or each.optional) or (each.type in WITH_SIGN and UNKNOWN in texts[each.name])
    ]
    if open_fields or not solving:
        return open_fields
    return [each for each in calculation.inputs if each.name in typed and not texts[each.name]]


def _missing(blank: Input, typed: Mapping[str, str], units: Units, further: str = "") -> GivenError:
    what = "has a ? in it" if typed.get(blank.name, "").strip() else "is missing"
    return GivenError(blank.name, f"{blank.label} {what}; accepted: {accepted(blank, units)}{further}")


def _read_wanted(calculation: Calculation, name: str, text: str, units: Units) -> Figure:
    unit = unit_of(calculation, name)
    try:
        return read_figure(text, unit, units)
    except NumberError as error:
        raise GivenError(name, f"{error}; accepted: a number {units.symbol(unit)}".rstrip()) from None


def _worked(calculation: Calculation, inputs: Mapping[str, Value], wanted: Mapping[str, Figure], library: Library, halved: Callable[[], Halves]) -> Answer:
    try:
        outcome = evaluate(calculation, inputs, library, lambda: spreads(calculation, inputs, halved()))
    except NumberError as error:
        raise NoAnswer(str(error)) from None
    return Answer(inputs, outcome, agreement={name: each.agrees(outcome.values[name]) for name, each in wanted.items()})


def _solve(calculation: Calculation, blank: Input, typed: Mapping[str, str], wanted: Mapping[str, Figure], library: Library) -> Answer:
    units = units_of(library)
    known = {
        each.name: read_given(each, typed_or_default(each, typed, units), units)
        for each in calculation.inputs if each is not blank
    }
    unknown = OpenField(blank, typed.get(blank.name, ""), units)
    solved = _searched(calculation, known, unknown, wanted)
    if not solved.best:
        raise NoAnswer(f"{blank.label}: no value within its range can be worked out")
    solved = _agreeing(calculation, known, unknown, solved, wanted)
    found = unknown.whole(_inexact(solved.best.value))
    inputs = {each.name: found if each is blank else known[each.name] for each in calculation.inputs}

    @cache
    def doubt() -> Number:
        doubts = {name: half(typed[name], unit_of(calculation, name), units) for name in wanted}
        return found_spread(calculation, inputs, blank, doubts, halves(calculation, typed, inputs, units)) if blank.type == "number" else 0

    def halved() -> Halves:
        known_halves = halves(calculation, typed, inputs, units)
        return {**known_halves, blank.name: doubt()} if doubt() else known_halves

    return replace(_worked(calculation, inputs, wanted, library, halved), blank=blank.name, solved=solved, doubt=doubt)


def _inexact(value: Value) -> Value:
    """What was searched for is exact only where seven figures say all of it, so that the working shows no more of the rest."""
    return value if not isinstance(value, Fraction) or read_number(compact(value)) == value else as_float(value)


def _searched(calculation: Calculation, known: Mapping[str, Value], unknown: OpenField, wanted: Mapping[str, Figure]) -> Solved:
    """What fits the first of the wanted results that tells values apart; raises NoAnswer when none does."""
    blank = unknown.field
    tried: list[Solved] = []
    for target, aim in wanted.items():
        tried.append(unknown.search(result_by(calculation, known, blank, target), aim))
        if tried[-1].decides:
            return tried[-1]
    several = next((each.many for each in tried if each.many and not each.idle), None)
    if several:
        least, most = several
        raise NoAnswer(f"{blank.label}: every value from {compact(least, 6)} to {compact(most, 6)} fits; one more measurement is needed")
    given = " and ".join(step.label for step in calculation.steps if step.name in wanted)
    raise NoAnswer(f"{blank.label} makes no difference here to what was given ({given}): give another result")


def _agreeing(calculation: Calculation, known: Mapping[str, Value], unknown: OpenField, solved: Solved, wanted: Mapping[str, Figure]) -> Solved:
    """Of several values that fit, those with which every wanted result agrees, if there are any."""
    if len(wanted) == 1 or len(solved.fits) < 2:
        return solved

    def agrees(candidate: Candidate) -> bool:
        values = work_steps(calculation, {**known, unknown.field.name: unknown.whole(candidate.value)})
        return all(figure.agrees(values[name]) for name, figure in wanted.items())

    return replace(solved, fits=tuple(filter(agrees, solved.fits)) or solved.fits)
