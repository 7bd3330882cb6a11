"""Rules about printed figures: each is worked again, and agrees, or is said to be a misprint and does not."""
from __future__ import annotations

from collections.abc import Iterator, Mapping, Set

from build_tools.answer import NoAnswer
from build_tools.calculate import resolved
from build_tools.counts import from_count
from build_tools.formula.plain import written
from build_tools.given import GivenError
from build_tools.library import Library
from build_tools.loaded import DataPath
from build_tools.model import Calculation, Count
from build_tools.model_parts import Figure
from build_tools.number import NumberError
from build_tools.problem import Problem, did_you_mean
from build_tools.published import MISPRINT, Judgement, judge


def printed_figures(library: Library, sound: Set[str]) -> Iterator[Problem]:
    """The examples of calculations and the figures that counts must give; only sound calculations (by reference) are worked."""
    for calculation in library.of_kind("calculation"):
        assert isinstance(calculation, Calculation)
        if calculation.ref not in sound:
            continue
        for index, example in enumerate(calculation.checks):
            yield from _judged(calculation, example.given, example.expect, library, calculation.ref, ("checks", index, "expect"))
    for count in library.of_kind("count"):
        assert isinstance(count, Count)
        yield from _count(count, library, sound)


def _count(count: Count, library: Library, sound: Set[str]) -> Iterator[Problem]:
    for index, figure in enumerate(count.gives):
        path = ("gives", index)
        calculation = library.get(figure.calculation)
        if not isinstance(calculation, Calculation) or calculation.ref not in sound:
            continue  # a missing entry is the business of the links, a wrong one has been reported
        calculation = resolved(calculation, library)
        results = [each.name for each in (*calculation.results, *calculation.steps)]
        if figure.result not in results:
            yield Problem("KB055", library.place(count.ref, *path, "result"), "gives.result", f"{calculation.id} has no result called {figure.result}",
                          did_you_mean(figure.result, results, f"use one of {', '.join(results)}"))
            continue
        given = count_inputs(calculation, count, figure.with_, library)
        yield from _judged(calculation, given, {figure.result: figure}, library, count.ref, path)


def count_inputs(calculation: Calculation, count: Count, further: Mapping[str, str], library: Library) -> dict[str, str]:
    """What a count puts into a calculation, as texts, with the further inputs that its figure names."""
    filled = from_count(calculation, count, library, further)
    return {**{name: written(value) for name, value in filled.items()}, **further}


def _judged(
    calculation: Calculation, given: Mapping[str, str], expect: Mapping[str, Figure], library: Library, ref: str, path: DataPath
) -> Iterator[Problem]:
    field = "checks" if path[0] == "checks" else "gives"
    try:
        judgements = list(judge(calculation, given, expect, library))
    except (GivenError, NoAnswer, NumberError) as error:
        yield Problem("KB056", library.place(ref, *path), field, f"{calculation.id} can't be worked with this: {error}", "correct what is given, or leave the figure out")
        return
    for judgement in judgements:
        if not judgement.sound:
            at = (*path, judgement.name) if field == "checks" else path
            yield Problem("KB051", library.place(ref, *at, "value"), f"{field}.{judgement.name}", _what(judgement), _hint(judgement, field))


def _what(judgement: Judgement) -> str:
    ours = f"{judgement.ours} {judgement.unit}".strip()
    if judgement.agrees:
        return f"this is called a {judgement.verdict}, yet we get {ours} and agree with the print ({judgement.printed})"
    return f"the source prints {judgement.printed}, this gives {ours}"


def _hint(judgement: Judgement, field: str) -> str:
    if judgement.agrees:
        return "take the verdict away" if judgement.verdict == MISPRINT else "take the verdict away, or give a tolerance with its reason"
    if field == "gives":
        return "compare each wheel and pinion with the page before changing the figure"
    return "compare what is given with the page; if the page is wrong, say `verdict: misprint` and why"
