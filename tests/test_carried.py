"""No result is printed finer than the figures typed carry: half a unit of each last digit, followed through the sum."""
from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

import numpy as np
import pytest
from scipy.optimize import approx_fprime

from build_tools.answer import Answer, answer
from build_tools.calculate import calculations, resolved, units_of, work_steps
from build_tools.carried import spreads
from build_tools.formula.evaluate import Value
from build_tools.library import Library
from build_tools.model import Calculation
from build_tools.model_parts import Result
from build_tools.printing import printed
from tests.javascript import Page
from tests.knowledge import read_once

LIBRARY, _ = read_once()
MEASURED = [entry for entry in calculations(LIBRARY) if any(field.measured and field.type == "number" for field in entry.inputs)]


def worked(library: Library, sum_id: str, **typed: str) -> Answer:
    return answer(library[f"calculation:{sum_id}"], typed, library)


def shown(library: Library, sum_id: str, result: str, **typed: str) -> str:
    return worked(library, sum_id, **typed).outcome.results[result].shown


def test_a_length_of_three_figures_gives_a_beat_of_three(library: Library) -> None:
    """Beats go with the root of the length: half a millimetre of 250 is 0.2 %, which is 0.1 % of 7177 or 7 either way."""
    result = worked(library, "beats-from-pendulum", length="250").outcome.results["beats"]
    assert (result.shown, result.unrounded, result.spread) == ("7180", "7177", "7")
    assert shown(library, "beats-from-pendulum", "beats", length="250.0") == "7177"


def test_what_is_counted_or_chosen_is_exact(library: Library) -> None:
    assert shown(library, "beats-per-hour", "beats", meshes="84/7 78/7", escape_teeth="33") == "8825.14"
    assert shown(library, "pendulum-from-beats", "length", beats="3600") == "993.6"


def test_a_default_that_was_not_touched_is_exact(library: Library) -> None:
    entry = resolved(library["calculation:pendulum-from-beats"], library)
    gravity = next(field.default for field in entry.inputs if field.name == "gravity")
    assert shown(library, "pendulum-from-beats", "length", beats="1200", gravity=gravity) == shown(library, "pendulum-from-beats", "length", beats="1200")
    assert shown(library, "pendulum-from-beats", "length", beats="1200", gravity="9.8") == "8940", "9.8 is good to half a per cent, which is 46 mm"


def test_nothing_is_exact(library: Library) -> None:
    """No line is no line, not a line of up to half a millimetre."""
    alone = worked(library, "fall-of-weight", turns="16", drum="50.0", line="0").outcome.results
    assert alone == worked(library, "fall-of-weight", turns="16", drum="50.0").outcome.results


def test_a_whole_number_is_good_to_three_figures(library: Library) -> None:
    """Whoever says a drum of two inches does not mean one of an inch and a half; 2.0 in says what it is worth."""
    for drum, line in (("2 in", "2553"), ("2.0 in", "2600"), ("2.000 in", "2553")):
        result = worked(library, "fall-of-weight", turns="16", drum=drum).outcome.results["line_let_out"]
        assert result.shown == line, "16 turns of 2 in are 100.53 in; half a tenth more of drum makes 2.5 in more of line, 64 mm"


def test_the_field_solved_for_carries_what_the_result_does(library: Library) -> None:
    found = worked(library, "beats-from-pendulum", beats="7200")
    assert found.written("length") == "248.41", "half a beat of 7200 is 0.007 %, twice that of the length, 0.03 mm in all"
    assert worked(library, "pendulum-from-beats", length="39 in").written("beats") == "3605"


@pytest.mark.parametrize("sum_id, typed, result, text", [
    ("local-gravity", {"latitude": "33° 52' S", "height": "30"}, "gravity", "9.7963"),
    ("local-gravity", {"latitude": "34 S", "height": "30"}, "gravity", "9.7964"),
    ("tide", {"age": "15.70", "port": "3:15"}, "high_water", "4.0"),
    ("rating-nut", {"pitch": "18 tpi", "length": "3 ft 3 in"}, "per_turn", "61.5"),
    ("fall-of-weight", {"turns": "16", "drum": "2 1/8 in", "line": "1/16 in"}, "line_let_out", "2793"),
    ("rate-from-readings", {"days": "0 1 2", "errors": "0; 4,2; 8,9"}, "rate", "4.45"),
    ("rate-from-readings", {"days": "0 1 2", "errors": " 0,4.2,8.9 "}, "rate", "4.45"),
])
def test_the_last_digit_is_found_in_every_spelling(sum_id: str, typed: dict[str, str], result: str, text: str, library: Library, scripts: Page) -> None:
    assert shown(library, sum_id, result, **typed) == text
    assert scripts.run("answered(data[0], data[1])", [sum_id, typed])["shown"][result] == text


def test_whole_numbers_are_not_rounded_to_tens(library: Library) -> None:
    result = worked(library, "teeth-from-fragment", chord="8", full="38", gaps="7").outcome.results["whole"]
    assert result.unrounded == "" and result.shown.isdigit()


def test_a_doubt_greater_than_the_result_leaves_one_figure(library: Library) -> None:
    result = worked(library, "rate-from-beat", measured="7201", wanted="7200").outcome.results["rate"]
    assert (result.shown, result.spread) == ("10", "6"), "half a beat in 7200 is 6 s a day"


def test_readings_carry_their_own_digits(library: Library) -> None:
    fine, rough = (shown(library, "rate-from-readings", "rate", days="0 1 2 4", errors=errors) for errors in ("0.00 5.00 10.00 21.00", "0 5 10 21"))
    assert (fine, rough) == ("5.26", "5.3")


@pytest.mark.parametrize("entry", MEASURED, ids=lambda entry: entry.id)
def test_doubts_are_what_the_slopes_say(entry: Calculation, library: Library) -> None:
    """Of small doubts each reaches the result by its slope, which SciPy finds in its own way; together they add by squares."""
    inputs = answer(entry, {field.name: field.example for field in entry.inputs}, library).inputs
    names = [field.name for field in entry.inputs if field.measured and field.type == "number" and inputs[field.name]]
    small = {name: Fraction(inputs[name]) / 10**6 for name in names}
    ours, at = spreads(entry, inputs, small), np.array([float(inputs[name]) for name in names])
    for step in entry.steps:
        if not isinstance(work_steps(entry, inputs)[step.name], str):
            slopes = approx_fprime(at, lambda point, name=step.name: value_at(entry, inputs, dict(zip(names, point)), name), 1e-6 * np.abs(at))
            theirs = math.hypot(*(slope * float(small[name]) for slope, name in zip(slopes, names)))
            assert float(ours.get(step.name, 0)) == pytest.approx(theirs, rel=1e-3, abs=1e-12), step.name


def value_at(entry: Calculation, inputs: Mapping[str, Value], moved: Mapping[str, float], name: str) -> float:
    return float(work_steps(entry, {**inputs, **{each: float(value) for each, value in moved.items()}})[name])


@pytest.mark.parametrize("value, spread, decimals, text", [
    ("7176.99", "7.2", 0, "7180"), ("7176.99", "0.72", 0, "7177"), ("0.50160", "0.0005", 4, "0.502"), ("12", "2", 1, "12"),
    ("993.62", "0.5", 1, "994"), ("993.62", "0.499", 1, "993.6"), ("3", "20", 1, "3"), ("-43.2", "0.6", 1, "-43"), ("0.04", "3", 2, "0.04"), ("8.24", "20", 2, "8"), ("8", "20", 2, "8"),
])
def test_the_last_digit_is_worth_the_width_of_the_doubt(value: str, spread: str, decimals: int, text: str, library: Library) -> None:
    """Half a unit either way leaves the very digit that was typed; twenty either way leaves one figure of three."""
    assert printed(Result(name="x", decimals=decimals), Fraction(value), "", units_of(library), Fraction(spread)).shown == text


def test_each_unit_has_its_own_last_digit(library: Library) -> None:
    """A doubt of 0.9 mm is 0.035 in, a width of 0.07 in: the hundredths stand where the tenths of a millimetre go."""
    result = next(each for each in library["calculation:pendulum-from-beats"].results if each.name == "length")
    told = printed(result, Fraction("993.62"), "mm", units_of(library), Fraction("0.9"))
    assert (told.shown, told.also, told.unrounded, told.spread) == ("994", (("in", "39.12"),), "993.6", "0.9")
