"""Writes the answer of a calculation, for people and for programs."""
from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from build_tools.answer import Answer
from build_tools.calculate import Outcome, result_label, unit_of, units_of
from build_tools.formula.evaluate import Value
from build_tools.formula.plain import written
from build_tools.number import Number, compact, plain_decimal
from build_tools.plain_text import plain_line
from build_tools.printing import Printed, print_found
from build_tools.solve import Candidate
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation
    from build_tools.model_parts import Input, Result

NEAREST, FIGURES, FIGURES_OF_AN_ERROR = 3, 6, 3
ROUNDED = "Rounded to what your figures carry, each taken as right to half its last digit, whole numbers to three figures. Measured finer? Type the zeros too, as in 50.00."


def number_for_json(value: Value) -> Any:
    """A value as JSON has it: whole numbers whole, others to twelve figures, words and trains as text."""
    if isinstance(value, Fraction) and value.denominator == 1:
        return int(value)
    if isinstance(value, Fraction | float):
        return float(plain_decimal(value))
    return written(value)


def exact_for_json(value: Value) -> str | None:
    """The value as an exact fraction, or None when it is not exact."""
    return str(value) if isinstance(value, Fraction) else None


def answer_as_data(calculation: Calculation, answered: Answer, library: Library) -> dict[str, Any]:
    """The answer as plain data: inputs, results, working, what was solved for, agreement, limits and cautions."""
    outcome = answered.outcome
    return {
        "calculation": calculation.id,
        "question": calculation.question,
        "inputs": {
            field.name: {
                "value": number_for_json(answered.inputs[field.name]), "shown": answered.written(field.name),
                "unit": field.unit, "solved": field.name == answered.blank,
            }
            for field in calculation.inputs if field.name in answered.inputs
        },
        "results": {name: _result_data(calculation, outcome.values[name], name, printed) for name, printed in outcome.results.items()},
        "tables": {result.name: _table_data(result, outcome) for result in calculation.results if result.name in outcome.tables},
        "steps": {step.name: {"value": number_for_json(outcome.values[step.name]), "unit": step.unit} for step in calculation.steps},
        "working": working_lines(answered),
        "solved": _solved_data(answered),
        "agrees": dict(answered.agreement),
        "limits": plain_line(calculation.limits),
        "cautions": list(calculation.cautions),
    }


def _result_data(calculation: Calculation, value: Value, name: str, printed: Printed) -> dict[str, Any]:
    return {
        "value": number_for_json(value), "exact": exact_for_json(value), "value_unit": unit_of(calculation, name),
        "shown": printed.shown, "unit": printed.unit, "also": dict(printed.also), "unrounded": printed.unrounded, "spread": printed.spread,
    }


def _table_data(result: Result, outcome: Outcome) -> list[dict[str, Any]]:
    """The rows of a table, each value by the name of its column, with what is printed for it; what does not apply is left out."""
    return [
        {column.name: {"value": number_for_json(value), "shown": text, "unit": column.unit} for column, value, text in zip(result.columns, row, shown) if value is not None}
        for row, shown in zip(outcome.values[result.name], outcome.tables[result.name])
    ]


def _solved_data(answered: Answer) -> dict[str, Any] | None:
    if not answered.solved:
        return None
    return {
        "field": answered.blank,
        "fits": [_candidate_data(candidate) for candidate in answered.solved.fits],
        "nearest": [_candidate_data(candidate) for candidate in answered.solved.nearest],
    }


def _candidate_data(candidate: Candidate) -> dict[str, Any]:
    return {"value": number_for_json(candidate.value), "gives": number_for_json(candidate.gives), "error": number_for_json(candidate.error)}


def working_lines(answered: Answer) -> list[str]:
    """Each step with its numbers put in: "Beats an hour = 2 × 33 × … = 8825.14 per hour"."""
    values = answered.outcome.values
    once = {line.name for line in answered.outcome.lines if isinstance(values[line.name], str) or line.working == line.shown}
    return [f"{line.label} = {'' if line.name in once else line.working + ' = '}{line.shown} {line.unit}".rstrip() for line in answered.outcome.lines]


def answer_as_text(calculation: Calculation, answered: Answer, library: Library) -> str:
    """The answer for a person to read."""
    units = units_of(library)
    lines = [calculation.question, ""]
    lines += [_input_line(field, answered, units) for field in calculation.inputs if field.name in answered.inputs]
    lines += ["", *(f"  {line}" for line in working_lines(answered)), ""]
    lines += [_result_line(calculation, result, answered, units) for result in calculation.results if result.name in answered.outcome.results]
    lines += [line for result in calculation.results if result.name in answered.outcome.tables for line in table_lines(result, answered.outcome, units)]
    lines += list(_verdicts(answered))
    if any(each.unrounded for each in answered.outcome.results.values()):
        lines += ["", ROUNDED]
    lines += ["", *_cautions(calculation, library), f"Limits: {plain_line(calculation.limits)}"]
    return "\n".join(lines)


def _input_line(field: Input, answered: Answer, units: Units) -> str:
    mark = "   (solved for)" if field.name == answered.blank else ""
    chosen = next((choice.label for choice in field.choices if choice.value == answered.inputs[field.name]), "")
    return f"  {field.label}: {chosen or answered.written(field.name)} {units.symbol(field.unit)}".rstrip() + mark


def _result_line(calculation: Calculation, result: Result, answered: Answer, units: Units) -> str:
    return f"{result_label(calculation, result)}: {answered.outcome.results[result.name].written(units)}"


def table_lines(result: Result, outcome: Outcome, units: Units) -> Iterable[str]:
    """A table in columns of even width, below its name; columns in which nothing stands are left out."""
    heads = tuple(f"{column.label} {units.symbol(column.unit)}".strip() for column in result.columns)
    columns = [column for column in zip(heads, *outcome.tables[result.name]) if any(column[1:])]
    widths = [max(map(len, column)) for column in columns]
    yield ""
    yield f"{result.label}:"
    yield from ("  " + "  ".join(text.ljust(width) for text, width in zip(row, widths)).rstrip() for row in zip(*columns))


def _verdicts(answered: Answer) -> Iterable[str]:
    for name, agrees in answered.agreement.items():
        if not answered.solved:
            yield f"The {name} you gave {'agrees' if agrees else 'does not agree'} with this."
    if answered.solved:
        fits = [_candidate_text(each, answered.spread) for each in answered.solved.fits]
        nearest = "; ".join(_candidate_text(each, answered.spread) for each in answered.solved.nearest[:NEAREST])
        if not fits:
            yield f"Nothing fits exactly; these come nearest: {nearest}."
        elif len(fits) > 1:
            yield f"{len(fits)} values fit: " + "; ".join(fits) + "."
        if nearest and fits:
            yield f"Next to {'them' if len(fits) > 1 else 'it'}: {nearest}."


def _candidate_text(candidate: Candidate, spread: Number) -> str:
    return f"{print_found(candidate.value, spread)} (gives {compact(candidate.gives, FIGURES)}, off by {compact(candidate.error, FIGURES_OF_AN_ERROR)})"


def _cautions(calculation: Calculation, library: Library) -> Iterable[str]:
    for ref in calculation.cautions:
        caution = library.get(ref)
        if caution:
            yield f"Careful: {plain_line(caution.text)}"
