"""Blank fields: what is solved for, what can't be and why, that the page says the same; and the solver on curves of its own."""
from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from scipy.optimize import brentq

from build_tools.answer import NoAnswer, answer
from build_tools.calculate import read_all, result_by, work_steps
from build_tools.formula.evaluate import operate
from build_tools.formula.plain import written
from build_tools.library import Library
from build_tools.model import Calculation
from build_tools.model_parts import Step
from build_tools.number import NumberError, as_float, read_number
from build_tools.solve import among, between
from tests.javascript import Page
from tests.test_calculations import ALL, WORKED, mismatches, ours


def _blanks() -> list[object]:
    return [
        pytest.param(entry, field, id=f"{entry.id}-{field.name}")
        for entry in WORKED for field in entry.inputs if field.type in ("number", "whole")
    ]


@pytest.mark.parametrize(("calculation", "blank"), _blanks())
def test_a_blank_is_found_again_from_a_result(calculation: Calculation, blank: object, library: Library, scripts: Page) -> None:
    """Works the example, then leaves one input blank and gives a result: it is found again, or a sentence says why not."""
    inputs = read_all(calculation, {field.name: field.example for field in calculation.inputs}, library)
    values = work_steps(calculation, inputs)
    for step in calculation.steps:
        if isinstance(values[step.name], str):
            continue
        typed = {field.name: "" if field is blank else field.example for field in calculation.inputs} | {step.name: _exact(values[step.name])}
        found = ours(calculation, typed, library)
        assert mismatches(calculation, [typed], library, scripts, [found]) == []
        if "error" in found:
            idle = "makes no difference here" in found["error"]
            assert idle or "fits; one more" in found["error"], found
            assert not (idle and _depends(calculation, inputs, blank, step.name))
            continue
        assert any(read_number(value) == pytest.approx(as_float(inputs[blank.name]), rel=1e-6) for value in found["fits"]), found
        return


def _exact(value: object) -> str:
    return f"{value.numerator}/{value.denominator}" if isinstance(value, Fraction) and value >= 0 and len(str(value)) < 38 else f"{as_float(value):.11e}".replace("e+", "e")


def _depends(calculation: Calculation, inputs: dict[str, object], blank: object, result: str) -> bool:
    here = work_steps(calculation, inputs)[result]
    try:
        value = inputs[blank.name]
        there = work_steps(calculation, {**inputs, blank.name: value + (1 if blank.type == "whole" or not value else value / 100)})[result]
    except NumberError:
        return True
    return not isinstance(there, str) and as_float(there) != pytest.approx(as_float(here), rel=1e-9)


def test_of_very_many_that_fit_the_exact_one_stands_first(library: Library, scripts: Page) -> None:
    """11 1/4 in between arbors at 10 diametral pitch is half of 225 teeth over 10: with a pinion of 25 the wheel has 200, though 189 to 211 round to 10."""
    entry = library["calculation:module-from-centres"]
    typed = {"centres": "11.25 in", "pinion": "25", "wheel": "", "diametral_pitch": "10"}
    assert ours(entry, typed, library)["fits"] == ["200"] and mismatches(entry, [typed], library, scripts) == []


@pytest.mark.parametrize("calculation", WORKED, ids=lambda entry: entry.id)
def test_a_blank_choice_or_count_is_found_again(calculation: Calculation, library: Library, scripts: Page) -> None:
    """Each choice left blank, and each count of each train in turn: among what fits, or a sentence says that it makes no difference."""
    example = {field.name: field.example for field in calculation.inputs}
    values = work_steps(calculation, read_all(calculation, example, library))
    step = next((step for result in calculation.results for step in calculation.steps if step.name == result.name and not isinstance(values[step.name], str)), None)
    typed = [{**example, field.name: blank, step.name: _exact(values[step.name])} for field in calculation.inputs if step for blank in _blanked(field)]
    mine = [ours(calculation, each, library) for each in typed]
    for found in mine:
        if "error" in found:
            assert "makes no difference here" in found["error"] or "fits; one more" in found["error"], found
        else:
            assert example[found["blank"]] in found["fits"], found
    assert mismatches(calculation, typed, library, scripts, mine) == []


def _blanked(field: object) -> list[str]:
    if field.type == "choice":
        return [""]
    if field.type != "train":
        return []
    places = [match.span() for match in re.finditer(r"\d+", field.example)]
    return [f"{field.example[:start]}?{field.example[end:]}" for start, end in places]


LOST: dict[str, tuple[str, dict[str, str], str, str]] = {
    "one number of a list": ("rate-from-readings", {"days": "0 1 2 3 5 7", "errors": "0 4.2 ? 12.4 22.1 30.3", "rate": "1481/340"}, "errors", "0 4.2 8.9 12.4 22.1 30.3"),
    "one number of a list with commas": ("rate-from-readings", {"days": "0, 1, 2, 3, 5, 7", "errors": "0, 4.2, ?, 12.4, 22.1, 30.3", "rate": "1481/340"}, "errors", "0 4.2 8.9 12.4 22.1 30.3"),
    "one number of a list with units": ("rate-from-readings", {"days": "0 1 2 3 5 7", "errors": "0 s, 4.2 s, ? , 12.4 s, 22.1 s, 30.3 s", "rate": "1481/340"}, "errors", "0 4.2 8.9 12.4 22.1 30.3"),
    "a whole number of a list": ("notes-a-day", {"phrases": "1 2 ? 4", "notes": "4", "blows": "156", "notes_hour": "40"}, "phrases", "1 2 3 4"),
    "a day of the year": ("equation-of-time", {"date": "2026-?-?", "equation": "987"}, "date", "2026-11-03"),
    "a day of the month": ("moon-age", {"date": "2026-11-?", "age": "15"}, "date", "2026-11-24"),
    "a driver of one tooth": ("moon-error", {"meshes": "?/59", "period": "29.5"}, "meshes", "1/59"),
}


@pytest.mark.parametrize("case", LOST)
def test_a_lost_part_is_found(case: str, library: Library, scripts: Page) -> None:
    """The rate of the readings is that of numpy.polyfit, 4.355882352941177."""
    name, typed, field, expected = LOST[case]
    calculation = next(entry for entry in ALL if entry.id == name)
    assert mismatches(calculation, [typed], library, scripts) == []
    assert ours(calculation, typed, library)["inputs"][field] == expected


def test_a_second_result_decides_between_two_answers(library: Library, scripts: Page) -> None:
    """Two lengths of spring give the same turns, one below and one above half the room; how thick the ring lies when run down tells them apart."""
    calculation = next(entry for entry in ALL if entry.id == "mainspring-turns")
    typed = {"barrel": "46", "arbor": "15.34", "thickness": "0.4", "length": "", "turns": "8.7"}
    lengths = [read_number(text) for text in ours(calculation, typed, library)["fits"]]
    assert len(lengths) == 2 and lengths[0] < read_number(ours(calculation, {**typed, "length": "1500"}, library)["shown"]["best_length"]) < lengths[1]
    decided = typed | {"ring_share": "0.49"}
    assert [read_number(text) for text in ours(calculation, decided, library)["fits"]] == [lengths[1]]
    assert mismatches(calculation, [typed, decided], library, scripts) == []


@pytest.mark.parametrize(("name", "typed", "says"), [
    ("sundial", {"date": "", "west": "3", "difference": "3"}, "no date can be found without its year"), ("sundial", {"date": "2026-2-30?", "west": "3", "difference": "3"}, "write ? for the month"),
    ("sundial", {"date": "2026-13-?", "west": "3", "difference": "3"}, "leaves no day open"), ("notes-a-day", {"phrases": "", "notes_hour": "40"}, "a whole list can't be solved for"),
    ("notes-a-day", {"phrases": "? 2 ?", "notes_hour": "40"}, "write ? once"), ("notes-a-day", {"phrases": "?", "notes_hour": "40"}, "a whole list can't be solved for"),
    ("seconds-hand", {"meshes": "80/8 64/8", "divisions": "", "round": "45"}, "Divisions on the small dial makes no difference here"),
    ("energy-a-day", {"mass": "", "drum": "51.5", "hang": "pulley", "hours_a_turn": "12", "escape_turns": "60", "escape_radius": "20", "reduction": "1000"}, "Mass of the weight makes no difference here"),
    ("teeth-from-fragment", {"gaps": "10", "full": "37.66", "chord": "", "whole": "60"}, "fits; one more measurement is needed"),
    ("moon-age", {"date": "2026-?-?"}, "Date has a ? in it"), ("fall-of-weight", {"turns": "", "drum": "", "fall": "1294"}, "are both open"),
])
def test_what_can_not_be_found_is_said_plainly(name: str, typed: dict[str, str], says: str, library: Library, scripts: Page) -> None:
    calculation = next(entry for entry in ALL if entry.id == name)
    assert says in ours(calculation, typed, library)["error"]
    assert mismatches(calculation, [typed], library, scripts) == []


CURVES: dict[str, tuple[Callable[[float], float], float, float, float]] = {
    "line": (lambda x: 3 * x - 2, 0, 10, 7.3), "parabola": (lambda x: x * x, -5, 5, 4), "touching": (lambda x: (x - 1.2345) ** 2, -5, 5, 0),
    "cubic": (lambda x: x**3 - 6 * x * x + 11 * x, -1, 6, 6.0), "wave": (lambda x: math.sin(3 * x), 0, 6, 0.5), "power law": (lambda x: x**-0.5, 0.001, 1e6, 0.25),
}


@pytest.mark.parametrize("curve", CURVES)
def test_every_root_is_found_as_on_a_grid_twenty_times_finer(curve: str) -> None:
    function, least, most, wanted = CURVES[curve]
    steps = 20_000
    points = [least + (most - least) * step / steps for step in range(steps + 1)]
    expected = [brentq(lambda x: function(x) - wanted, a, b, xtol=1e-14) for a, b in zip(points, points[1:]) if (function(a) - wanted) * (function(b) - wanted) < 0]
    expected += [x for x in points if function(x) == wanted]
    expected = expected or [1.2345]
    found = between(Fraction(least), Fraction(most), lambda x: function(x), Fraction(wanted))
    assert sorted(as_float(each.value) for each in found.fits) == pytest.approx(sorted(expected), rel=1e-6)


def test_a_blank_that_nothing_fits_gives_the_nearest() -> None:
    found = between(Fraction(-5), Fraction(5), lambda x: x * x + 1, Fraction(0))
    assert not found.fits and as_float(found.best.value) == pytest.approx(0, abs=1e-6)


def test_a_blank_that_a_whole_stretch_fits_says_so() -> None:
    found = between(Fraction(0), Fraction(10), lambda x: Fraction(int(x >= 5)), Fraction(1))
    assert found.many and as_float(found.many[0]) == pytest.approx(5, abs=0.01) and found.many[1] == 10


def test_a_pole_is_no_root() -> None:
    assert not between(Fraction(-1), Fraction(2), lambda x: operate("/", 1.0, x - 0.50001), Fraction(0)).fits


def test_whole_numbers_are_all_tried_and_ranked() -> None:
    found = among([Fraction(n) for n in range(2, 401)], lambda n: n * n, Fraction(1000), Fraction(30))
    assert [int(each.value) for each in found.fits] == [32] and [int(each.value) for each in found.nearest[:2]] == [31, 33]


@pytest.mark.parametrize("blank", ["hours_per_turn", "escape_teeth"])
def test_no_value_fits_where_a_step_without_the_blank_has_no_answer(blank: str, library: Library) -> None:
    beats = next(entry for entry in ALL if entry.id == "beats-per-hour")
    beats = replace(beats, steps=(*beats.steps, Step(name="never", label="Never", formula="1 / (len(meshes) - 2)")))
    with pytest.raises(NoAnswer, match="no value within its range"):
        answer(beats, {"meshes": "84/7 78/7", "escape_teeth": "33", "hours_per_turn": "1", "beats": "8825"} | {blank: ""}, library)


def test_working_only_what_hangs_on_the_blank_gives_what_all_steps_give(library: Library) -> None:
    for calculation in WORKED:
        inputs = read_all(calculation, {field.name: field.example for field in calculation.inputs}, library)
        for field in calculation.inputs:
            other = {**inputs, field.name: inputs[field.name] + 1} if field.type in ("number", "whole") else inputs
            for step in calculation.steps:
                by_field = result_by(calculation, inputs, field, step.name)
                for tried in (inputs, other, inputs):
                    try:
                        expected = work_steps(calculation, tried)[step.name]
                    except NumberError:
                        continue
                    assert by_field(tried[field.name]) == expected, (calculation.id, field.name, step.name)


@pytest.mark.parametrize("text", ["?/7 78/7", "84/? 78/7", "84/7 ?/7", "84/7 78/?"])
def test_a_lost_count_is_found(text: str, library: Library) -> None:
    beats = next(entry for entry in ALL if entry.id == "beats-per-hour")
    found = answer(beats, {"meshes": text, "escape_teeth": "33", "beats": "8825.14"}, library)
    assert written(found.inputs["meshes"]) == "84/7 78/7" and len(found.solved.fits) == 1
