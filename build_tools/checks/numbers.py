"""Rules about formulas, units and ranges: every calculation can be worked from its own examples."""
from __future__ import annotations

import keyword
from collections.abc import Iterator, Set

from build_tools.calculate import CONSTANT, constant_value, evaluate, read_all, resolved, tree, unit_of
from build_tools.checks.figures import printed_figures
from build_tools.count_pieces import PIECES
from build_tools.formula.parse import FormulaError
from build_tools.formula.tree import CONSTANTS, names_in
from build_tools.given import GivenError, read_given
from build_tools.library import Library
from build_tools.model import Calculation, Constant
from build_tools.model_parts import Input
from build_tools.number import NumberError, read_number
from build_tools.problem import Problem, did_you_mean
from build_tools.procedures import PROCEDURES
from build_tools.units import Units, read_units

TABLE = "constant:units"
TAKEN = {*CONSTANTS, *keyword.kwlist}


def check(library: Library) -> Iterator[Problem]:
    """Constants and units are numbers, formulas can be read, examples worked, and printed figures judged rightly."""
    yield from constants(library)
    worth = list(unit_rows(library))
    yield from worth
    if worth or TABLE not in library:
        return
    units = read_units(library.table("units"))
    sound: set[str] = set()
    for calculation in library.of_kind("calculation"):
        assert isinstance(calculation, Calculation)
        found = list(_calculation(calculation, library, units)) or list(worked_example(calculation, library))
        yield from found
        if not found:
            sound.add(calculation.ref)
    yield from printed_figures(library, sound)


def _calculation(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    found = [problem for rule in (names, formulas, defaults, units_known, fills) for problem in rule(calculation, library, units)]
    yield from found or ranges(calculation, library, units)


def constants(library: Library) -> Iterator[Problem]:
    """A constant's value is a number."""
    for constant in library.of_kind("constant"):
        assert isinstance(constant, Constant)
        if constant.value:
            yield from _is_number(constant.value, library, constant.ref, ("value",))


def unit_rows(library: Library) -> Iterator[Problem]:
    """The worth of every unit is a number above 0."""
    for index, row in enumerate(library.table("units")):
        yield from _is_number(row.value, library, TABLE, ("rows", index, "value"))


def _is_number(text: str, library: Library, ref: str, path: tuple[str | int, ...]) -> Iterator[Problem]:
    try:
        read_number(text)
    except NumberError as error:
        yield _problem("KB060", library, ref, path, str(error), "write a plain number in quotes, such as \"29.5\" or \"1/8\"")


def names(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    """Each input and step has a name that formulas can use, and each result is one of them."""
    seen: set[str] = set()
    for part, items in (("inputs", calculation.inputs), ("steps", calculation.steps)):
        for index, item in enumerate(items):
            if item.name in TAKEN:
                yield _problem("KB058", library, calculation.ref, (part, index, "name"), f"{item.name} means something else in formulas", "choose another name")
            seen.add(item.name)
    if calculation.procedure:
        yield from procedure_known(calculation, library)
        return
    for index, field in enumerate(calculation.inputs):
        if field.optional:
            yield _problem("KB063", library, calculation.ref, ("inputs", index, "optional"), f"formulas can't do without {field.name}", "give it a default, or take optional out")
    for index, result in enumerate(calculation.results):
        if result.name not in seen:
            yield _problem("KB055", library, calculation.ref, ("results", index, "name"), f"there is no input or step called {result.name}",
                           did_you_mean(result.name, seen, f"use one of {', '.join(sorted(seen))}"))


def procedure_known(calculation: Calculation, library: Library) -> Iterator[Problem]:
    """The procedure that an entry names in place of steps is one that there is."""
    if calculation.procedure not in PROCEDURES:
        yield _problem("KB062", library, calculation.ref, ("procedure",), f"there is no procedure called {calculation.procedure}",
                       did_you_mean(calculation.procedure, PROCEDURES, f"use one of {', '.join(sorted(PROCEDURES))}, or write steps"))


def formulas(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    """Each formula can be read and uses only the inputs, what choices set, and the steps before it."""
    known = {*(field.name for field in calculation.inputs), *calculation.constants}
    known |= {name for field in calculation.inputs for choice in field.choices for name in choice.sets}
    for index, step in enumerate(calculation.steps):
        for field, text in (("formula", step.formula), ("impossible_if", step.impossible_if)):
            if text:
                yield from _formula(text, known, calculation, library, ("steps", index, field))
        known.add(step.name)


def _formula(text: str, known: Set[str], calculation: Calculation, library: Library, path: tuple[str | int, ...]) -> Iterator[Problem]:
    try:
        used = names_in(tree(text))
    except FormulaError as error:
        yield _problem("KB050", library, calculation.ref, path, str(error), "write it with what is allowed, or break it into steps")
        return
    for name in sorted(used - known):
        yield _problem("KB052", library, calculation.ref, path, f"{name} is neither an input nor an earlier step",
                       did_you_mean(name, known, f"use one of {', '.join(sorted(known))}"))


def defaults(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    """Whatever names a constant names one that has a value: defaults, examples, what choices set, and constants of the formulas."""
    for path, text in _constants_named(calculation):
        if text.startswith(CONSTANT) and not constant_value(text, library):
            known = [entry.ref for entry in library.of_kind("constant") if isinstance(entry, Constant) and entry.value]
            yield _problem("KB057", library, calculation.ref, path, f"there is no constant with a value called {text}",
                           did_you_mean(text, known, "name a constant of kb/constants, or a row of a table as in constant:expansion.steel, or write the number"))


def _constants_named(calculation: Calculation) -> Iterator[tuple[tuple[str | int, ...], str]]:
    for name, text in calculation.constants.items():
        yield ("constants", name), text
    for index, field in enumerate(calculation.inputs):
        yield ("inputs", index, "default"), field.default
        yield ("inputs", index, "example"), field.example
        for place, choice in enumerate(field.choices):
            yield from ((("inputs", index, "choices", place, "sets", name), text) for name, text in choice.sets.items())


def units_known(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    """Every unit stands in the table, and those shown beside one another convert."""
    known = [part.name for part in (*calculation.inputs, *calculation.steps)]
    for part, items in (("inputs", calculation.inputs), ("steps", calculation.steps), ("results", calculation.results)):
        for index, item in enumerate(items):
            own = item.unit or unit_of(calculation, item.name)
            if part == "results" and item.name not in known:
                continue
            for place, name in (("unit", item.unit), *(("also", other) for other in getattr(item, "also", ()))):
                if not name:
                    continue
                if name not in units:
                    yield _problem("KB053", library, calculation.ref, (part, index, place), f"there is no unit called {name}",
                                   did_you_mean(name, [unit.name for unit in units], "add it to kb/constants/units.yaml with its worth"))
                elif _clash(own if place == "also" else unit_of(calculation, item.name), name, units):
                    yield _problem("KB059", library, calculation.ref, (part, index, place), f"{name} measures something else than {own or 'a plain number'}",
                                   "choose a unit that measures the same")


def _clash(own: str, other: str, units: Units) -> bool:
    if own and own not in units:
        return False  # that is a problem of its own
    first, second = units[own].base if own else "", units[other].base
    return second not in (first, f"1/{first}") and f"1/{second}" != first


def fills(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    """An input is filled from a piece of a count, or from a result of another calculation."""
    for index, field in enumerate(calculation.inputs):
        name, _, result = field.fill.partition(".")
        other = library.get(f"calculation:{name}") if result else None
        known = field.fill in PIECES or (isinstance(other, Calculation) and result in [each.name for each in other.results])
        if field.fill and not known:
            yield _problem("KB061", library, calculation.ref, ("inputs", index, "fill"), f"no count and no calculation gives {field.fill}",
                           did_you_mean(field.fill, PIECES, f"use one of {', '.join(sorted(PIECES))}, or calculation.result"))


def ranges(calculation: Calculation, library: Library, units: Units) -> Iterator[Problem]:
    """Limits, usual range, default and example are values that the input takes; numbers have both limits."""
    for index, field in enumerate(resolved(calculation, library).inputs):
        if field.type in ("number", "whole") and not (field.minimum and field.maximum):
            yield _problem("KB054", library, calculation.ref, ("inputs", index), "a number needs a minimum and a maximum", "say the least and the most that make sense")
            continue
        for path, text in _texts(field):
            try:
                read_given(field, text, units)
            except GivenError as error:
                yield _problem("KB054", library, calculation.ref, ("inputs", index, *path), error.sentence, "correct it, or widen the limits")


def _texts(field: Input) -> Iterator[tuple[tuple[str | int, ...], str]]:
    for name in ("minimum", "maximum", "default", "example"):
        if getattr(field, name) and not getattr(field, name).startswith(CONSTANT):
            yield (name,), getattr(field, name)
    for place, text in enumerate(field.usual):
        yield ("usual", place), text


def worked_example(calculation: Calculation, library: Library) -> Iterator[Problem]:
    """The example in the inputs can be worked to the end."""
    ready = resolved(calculation, library)
    try:
        evaluate(ready, read_all(ready, {field.name: field.example for field in ready.inputs}, library), library)
    except (GivenError, NumberError) as error:
        yield _problem("KB056", library, calculation.ref, ("inputs",), f"the example can't be worked: {error}", "change the example or the formula")


def _problem(code: str, library: Library, ref: str, path: tuple[str | int, ...], what: str, hint: str) -> Problem:
    field = ".".join(str(part + 1) if isinstance(part, int) else part for part in path)
    return Problem(code, library.place(ref, *path), field, what, hint)
