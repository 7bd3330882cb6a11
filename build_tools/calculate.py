"""Works a calculation entry out: inputs in, every step and every printed result out."""
from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any

from build_tools.count_pieces import going_trains
from build_tools.formula.evaluate import Value, Work, prepared
from build_tools.formula.parse import FormulaError, parse
from build_tools.formula.plain import with_numbers
from build_tools.formula.tree import Node, names_in, never_fails
from build_tools.given import GivenError, accepted, choice_numbers, read_given
from build_tools.number import Number, NumberError, in_working, read_number
from build_tools.printing import Printed, print_value, printed
from build_tools.procedures import PROCEDURES
from build_tools.units import Units, read_units

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation
    from build_tools.model_parts import Input, Result, Step

CONSTANT = "constant:"


@dataclass(frozen=True)
class Line:
    """One step worked out: the label, the numbers put in, the printed value and its unit."""
    name: str
    label: str
    working: str
    shown: str
    unit: str


@dataclass(frozen=True)
class Outcome:
    """What a calculation gives: values in the units of the entry; on demand the results as they are printed, and the working."""
    values: Mapping[str, Value]
    tables: Mapping[str, tuple[tuple[str, ...], ...]]
    printing: Callable[[], Mapping[str, Printed]]
    working: Callable[[], tuple[Line, ...]]

    @cached_property
    def results(self) -> Mapping[str, Printed]:
        """The results as they are printed, with their units, by name."""
        return self.printing()

    @cached_property
    def shown(self) -> Mapping[str, str]:
        """The results as they are printed, without their units."""
        return {name: result.shown for name, result in self.results.items()}

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The steps with the numbers put in."""
        return self.working()


@lru_cache(maxsize=4096)
def tree(formula: str) -> Node:
    """The tree of a formula, read once."""
    return parse(formula)


@lru_cache(maxsize=4096)
def work(formula: str) -> Work:
    """A formula as a function of its names, prepared once; raises FormulaError for one that can't be read."""
    return prepared(tree(formula))


@lru_cache(maxsize=8)
def units_of(library: Library) -> Units:
    """The units of this library."""
    return read_units(library.table("units"))


def resolved(calculation: Calculation, library: Library) -> Calculation:
    """The calculation with every constant that its inputs, choices and formulas name replaced by its value."""
    texts = [*calculation.constants.values(), *(text for field in calculation.inputs for text in _constant_places(field))]
    if not any(text.startswith(CONSTANT) for text in texts):
        return calculation
    return replace(
        calculation, inputs=tuple(_resolved_input(field, library) for field in calculation.inputs),
        constants={name: _resolved(text, library) for name, text in calculation.constants.items()},
    )


def _constant_places(field: Input) -> Iterator[str]:
    yield from (field.default, field.example)
    for choice in field.choices:
        yield from choice.sets.values()


def _resolved_input(field: Input, library: Library) -> Input:
    choices = tuple(replace(choice, sets={name: _resolved(text, library) for name, text in choice.sets.items()}) for choice in field.choices)
    return replace(field, default=_resolved(field.default, library), example=_resolved(field.example, library), choices=choices)


def _resolved(text: str, library: Library) -> str:
    return constant_value(text, library) or text if text.startswith(CONSTANT) else text


def constant_value(text: str, library: Library) -> str:
    """The value of "constant:lunation", or of a row of a table, "constant:expansion.steel"; "" where there is none."""
    ref, _, row = text.partition(".")
    constant = library.get(ref)
    if not constant or constant.kind != "constant":
        return ""
    return next((each.value for each in constant.rows if each.name == row), "") if row else constant.value


@lru_cache(maxsize=8)
def calculations(library: Library) -> tuple[Calculation, ...]:
    """Every calculation that is in use, its constants put in, in the order of the bench."""
    entries = (resolved(entry, library) for entry in library.of_kind("calculation") if entry.status != "retired")
    return tuple(sorted(entries, key=lambda entry: (entry.order, entry.id)))


def read_all(calculation: Calculation, given: Mapping[str, str], library: Library) -> dict[str, Value]:
    """The values of the inputs from what was typed, defaults put in; raises GivenError for the first that is wrong."""
    units = units_of(library)
    wanted = (field for field in calculation.inputs if not (field.optional and not given.get(field.name, "").strip()))
    return {field.name: read_given(field, typed_or_default(field, given, units), units) for field in wanted}


def typed_or_default(field: Input, given: Mapping[str, str], units: Units) -> str:
    """What was typed for an input, else its default; raises GivenError when there is neither."""
    text = given.get(field.name, "").strip() or field.default
    if not text:
        raise GivenError(field.name, f"{field.label} is missing; accepted: {accepted(field, units)}")
    return text


def named_values(calculation: Calculation, inputs: Mapping[str, Value]) -> dict[str, Value]:
    """The values of all names before the first step: constants, the inputs, and the numbers that choices bring."""
    names = {name: read_number(number) for name, number in calculation.constants.items()} | dict(inputs)
    for field in calculation.inputs:
        if field.type == "choice" and field.name in inputs:
            names.update(choice_numbers(field, inputs[field.name]))
    return names


def work_steps(calculation: Calculation, inputs: Mapping[str, Value]) -> dict[str, Value]:
    """Every name and its value after the last step; raises NumberError that names the step."""
    names = named_values(calculation, inputs)
    _work_into(names, calculation.steps)
    return names


def _work_into(names: dict[str, Value], steps: Iterable[Step]) -> None:
    for step in steps:
        try:
            impossible = step.impossible_if and work(step.impossible_if)(names)
            names[step.name] = None if impossible else work(step.formula)(names)
        except (NumberError, FormulaError) as error:
            raise NumberError(f"{step.label}: {error}") from None
        if impossible:
            raise NumberError(" ".join(step.impossible.split()))


def result_by(calculation: Calculation, known: Mapping[str, Value], field: Input, result: str) -> Callable[[Value], Value]:
    """A result as a function of one input, the others known: steps that do not hang on that input are worked only once.

    The function raises NumberError for a value that has no answer; for all of them where it is another input that allows none.
    """
    def by_every_step(value: Value) -> Value:
        return work_steps(calculation, {**known, field.name: value})[result]

    if field.type == "choice":  # it brings numbers of its own
        return by_every_step
    hanging = hanging_on(field.name, calculation)
    try:
        names = named_values(calculation, known)
        _work_into(names, (step for step in calculation.steps if step not in hanging))
    except NumberError:
        return by_every_step

    moving = {field.name, *(step.name for step in hanging)}
    steady = {name: value for name, value in names.items() if name not in moving}
    works = [(step.name, _step_work(step, steady)) for step in _needed(result, hanging)]

    def by_hanging_steps(value: Value) -> Value:
        names[field.name] = value
        for name, work_again in works:
            names[name] = work_again(names)
        return names[result]

    return by_hanging_steps


def _needed(result: str, hanging: tuple[Step, ...]) -> list[Step]:
    """The steps that lead to a result, and those that may say that there is none; in their order."""
    names, needed = {result}, []
    for step in reversed(hanging):
        if step.name in names or step.impossible_if or not never_fails(tree(step.formula)):
            names |= {name for formula in (step.formula, step.impossible_if) if formula for name in names_in(tree(formula))}
            needed.insert(0, step)
    return needed


def _step_work(step: Step, steady: Mapping[str, Value]) -> Work:
    """A step as a function of the names before it, for one that is worked more than once."""
    formula = prepared(tree(step.formula), steady)
    if not step.impossible_if:
        return formula
    impossible = prepared(tree(step.impossible_if), steady)

    def worked(names: Mapping[str, Value]) -> Value:
        if impossible(names):
            raise NumberError(step.impossible)
        return formula(names)

    return worked


def hanging_on(name: str, calculation: Calculation) -> tuple[Step, ...]:
    """The steps that use an input, themselves or through steps before them."""
    moving = {name}
    hanging = []
    for step in calculation.steps:
        if any(names_in(tree(formula)) & moving for formula in (step.formula, step.impossible_if) if formula):
            moving.add(step.name)
            hanging.append(step)
    return tuple(hanging)


def work_procedure(calculation: Calculation, inputs: Mapping[str, Value], library: Library) -> dict[str, Any]:
    """The inputs and what the named procedure makes of them; results that don't apply are left out. Raises NumberError."""
    names = named_values(calculation, inputs)
    found = PROCEDURES[calculation.procedure](names, going_trains(library))
    return names | {name: value for name, value in found.items() if value is not None}


def evaluate(calculation: Calculation, inputs: Mapping[str, Value], library: Library, spreads: Callable[[], Mapping[str, Number]] = dict) -> Outcome:
    """Works the entry out from the values of its inputs; `spreads` tells how far each result may be off. Raises NumberError when it can't be."""
    units = units_of(library)
    values = work_procedure(calculation, inputs, library) if calculation.procedure else work_steps(calculation, inputs)
    scalars = [result for result in calculation.results if not result.columns and (result.name in values or not calculation.procedure)]

    def printing() -> dict[str, Printed]:
        off = spreads()
        return {each.name: printed(each, values[each.name], unit_of(calculation, each.name), units, off.get(each.name, 0)) for each in scalars}

    return Outcome(
        values=values,
        printing=printing,
        tables={result.name: _table(result, values[result.name]) for result in calculation.results if result.columns and result.name in values},
        working=lambda: tuple(_line(step, values, units) for step in calculation.steps),
    )


def _table(result: Result, rows: tuple[tuple[Any, ...], ...]) -> tuple[tuple[str, ...], ...]:
    """The rows of a table as they are printed; what does not apply is blank."""
    return tuple(
        tuple("" if value is None else print_value(value, column.decimals, column.significant) for value, column in zip(row, result.columns))
        for row in rows
    )


def result_label(calculation: Calculation, result: Result) -> str:
    """What a result is called: its own label, else that of its step or input."""
    parts = (*calculation.steps, *calculation.inputs)
    return result.label or next((part.label for part in parts if part.name == result.name), result.name)


def unit_of(calculation: Calculation, name: str) -> str:
    """The unit in which an input, a step or what a procedure gives is counted."""
    results = calculation.results if calculation.procedure else ()
    return next((part.unit for part in (*calculation.inputs, *calculation.steps, *results) if part.name == name), "")


def _line(step: Step, values: Mapping[str, Value], units: Units) -> Line:
    value = values[step.name]
    shown = value if isinstance(value, str) else in_working(value)
    return Line(step.name, step.label, with_numbers(tree(step.formula), values), shown, units.symbol(step.unit))
