"""What a count entry puts into calculations, and what the calculations make of it."""
from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from build_tools.calculate import calculations, evaluate, hanging_on, units_of
from build_tools.count_pieces import pieces
from build_tools.formula.evaluate import Value
from build_tools.given import read_given
from build_tools.number import NumberError

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation, Count


@dataclass(frozen=True)
class CountResult:
    """One figure worked out from a count: which calculation gave it, under which label, as printed."""
    calculation: Calculation
    result: str
    label: str
    value: Value
    shown: str
    unit: str
    also: tuple[tuple[str, str], ...]


def from_count(calculation: Calculation, count: Count, library: Library, further: Mapping[str, str] = MappingProxyType({})) -> dict[str, Value]:
    """The inputs of a calculation that this count fills, by itself or through the results of earlier calculations.

    `further` are inputs, by name, that are known from elsewhere and hold for the earlier calculations too.
    """
    known = pieces(count)
    feeding = {field.fill.partition(".")[0] for field in calculation.inputs if "." in field.fill}
    for earlier in calculations(library) if feeding else ():
        if earlier.id in feeding:
            known.update(_named_results(earlier, known, library))
    return {field.name: known[field.fill] for field in calculation.inputs if field.fill in known and field.name not in further}


def _named_results(calculation: Calculation, known: Mapping[str, Value], library: Library) -> dict[str, Value]:
    inputs = _filled(calculation, known, library)
    results = _results(calculation, inputs, library) if inputs else ()
    return {f"{calculation.id}.{each.result}": each.value for each in results}


def _filled(calculation: Calculation, known: Mapping[str, Value], library: Library) -> dict[str, Value] | None:
    """All inputs, from what is known and from defaults; None where one stays open or nothing is filled."""
    inputs: dict[str, Value] = {}
    for field in calculation.inputs:
        if field.fill in known:
            inputs[field.name] = known[field.fill]
        elif field.default:
            inputs[field.name] = read_given(field, field.default, units_of(library))
        else:
            return None
    return inputs if any(field.fill in known for field in calculation.inputs) else None


def results_for(count: Count, library: Library) -> list[CountResult]:
    """Every figure that the calculations give for a count, in their order.

    An input may be filled by the result of an earlier calculation: `fill: beats-per-hour.beats`. Where that has none,
    its default serves the form only, and what hangs on it says nothing of this count.
    """
    found: list[CountResult] = []
    known = pieces(count)
    for calculation in calculations(library):
        inputs = _filled(calculation, known, library)
        if inputs is None:
            continue
        guessed = [field.name for field in calculation.inputs if "." in field.fill and field.fill not in known]
        left_out = {step.name for name in guessed for step in hanging_on(name, calculation)}
        results = [each for each in _results(calculation, inputs, library) if each.result not in left_out]
        known.update({f"{calculation.id}.{each.result}": each.value for each in results})
        found.extend(results)
    return found


def _results(calculation: Calculation, inputs: dict[str, Value], library: Library) -> Iterator[CountResult]:
    try:
        outcome = evaluate(calculation, inputs, library)
    except NumberError:
        return
    labels = {step.name: step.label for step in calculation.steps}
    for name, each in outcome.results.items():
        yield CountResult(calculation, name, labels.get(name, name), outcome.values[name], each.shown, each.unit, each.also)
