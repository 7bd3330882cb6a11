"""Calculations with a procedure in place of steps: that the page gives the same, that bad input is answered, and what is known from elsewhere."""
from __future__ import annotations

import random
from fractions import Fraction

import ephem
import pytest

from build_tools.answer import NoAnswer, answer
from build_tools.calc_output import answer_as_data, answer_as_text
from build_tools.calculate import calculations, evaluate, read_all
from build_tools.given import GivenError
from build_tools.library import Library
from build_tools.model import Calculation
from build_tools.number import read_number
from build_tools.procedures import PROCEDURES
from tests.javascript import Page
from tests.test_calculations import ALL, ours

SEARCHES = [entry for entry in ALL if entry.procedure]


def entry_called(name: str) -> Calculation:
    return next(entry for entry in ALL if entry.id == name)


def mismatches(calculation: Calculation, typed: list[dict[str, str]], library: Library, scripts: Page) -> list[object]:
    theirs = scripts.run("data[1].map(typed => { const found = answered(data[0], typed); delete found.values; return found; })", [calculation.id, typed])
    return [(given, mine, their) for given, their in zip(typed, theirs) if (mine := ours(calculation, given, library)) != their]


def example(calculation: Calculation) -> dict[str, str]:
    return {field.name: field.example for field in calculation.inputs if field.example}


@pytest.mark.parametrize("calculation", SEARCHES, ids=lambda entry: entry.id)
def test_the_page_gives_the_same_to_the_last_printed_digit(calculation: Calculation, library: Library, scripts: Page) -> None:
    typed = [dict(check.given) for check in calculation.checks] + [example(calculation)]
    assert mismatches(calculation, typed + drawn(calculation, 60), library, scripts) == []


def drawn(calculation: Calculation, number: int) -> list[dict[str, str]]:
    chance = random.Random(calculation.id)
    return [DRAWS[calculation.procedure](chance) for _ in range(number)]


def a_best_train(chance: random.Random) -> dict[str, str]:
    asked = {"ratio": f"{chance.uniform(0.01, 900):.{chance.randint(0, 6)}f}"} if chance.random() < 0.6 else {"period": f"{chance.uniform(0.3, 400):.5f}", "driver_hours": chance.choice(("1", "12", "24"))}
    least = chance.randint(6, 60)
    return asked | {
        "meshes": str(chance.randint(1, 3)), "drivers": f"{least}-{least + chance.randint(0, 50)}", "driven": chance.choice(("6-12", "7 8 10 12", "20-50", "6 8-10, 12")),
        "coprime": chance.choice(("yes", "no")),
    }


def a_lost_wheel(chance: random.Random) -> dict[str, str]:
    typed = {
        "meshes": chance.choice(("84/7 ?/7", "?/8 60/8", "84/? 78/7", "?/7 ?/7", "84/7 ?/?", "?/? 78/7", "84/7 78/7 ?/6", "84/7 78/7")), "escape_teeth": str(chance.randint(15, 45)),
        chance.choice(("pendulum", "beats")): str(chance.randint(150, 9000)), "gravity": chance.choice(("", "9.81", "39.14 in_sp")),
    }
    if chance.random() < 0.5:
        typed |= {"distances": chance.choice(("11.2", "15.75 12.6", "16")), "modules": chance.choice(("", "0.37", "0.37 0.4"))}
    return typed


def a_division(chance: random.Random) -> dict[str, str]:
    return {"teeth": str(chance.randint(2, 400)), "worm": str(chance.choice((1, 24, 40, 60, 90, 180))), "circles": chance.choice(("15-49", "39", "20 21 23 27", "100"))}


def a_count_wheel(chance: random.Random) -> dict[str, str]:
    return {"halves": chance.choice(("none", "all", "but-two"))}


def a_striking_train(chance: random.Random) -> dict[str, str]:
    typed = {"pins": str(chance.randint(4, 30)), "blows": chance.choice(("78", "90", "88", str(chance.randint(1, 200)))), "hoop": chance.choice(("", "1", "2"))}
    texts = {"meshes": ("78/8", "84/8", "120/10 96/8"), "report": ("8/78", "8/?", "?/78", "12/39", "5/24", "8/40 10/39", "?/?", "8/? 7/9"), "lock": ("64/8", "56/7", "78/6", "65/7"), "warning": ("56/7", "70/7", "60/8")}
    return typed | {name: chance.choice(choices) for name, choices in texts.items() if chance.random() < 0.6}


def a_year(chance: random.Random) -> dict[str, str]:
    return {"year": str(chance.randint(1600, 2400)), "every": str(chance.randint(1, 31))}


def a_scale(chance: random.Random) -> dict[str, str]:
    return {"distance": f"{chance.uniform(20, 3000):.2f}", "every": chance.choice(("", "0.25", "1", "1/3")), "most": chance.choice(("", "0.2", "6.3", "30"))}


DRAWS = {
    "best-train": a_best_train, "lost-wheel": a_lost_wheel, "dividing": a_division, "count-wheel": a_count_wheel, "pins-and-count-wheel": a_striking_train,
    "equation-year": a_year, "arc-scale": a_scale,
}
BAD = ("", " ", "abc", "-1", "0", "1e30", "nan", "1/0", "5 kg", "7 7", "?", "84/7 ?/?", "?/? ?/?", "84/0", "20-", "-20", "30-20", "1-3000", "6-12 x", "9" * 50, "18,000", "½")


@pytest.mark.parametrize("calculation", SEARCHES, ids=lambda entry: entry.id)
def test_bad_input_is_answered_alike_in_one_sentence(calculation: Calculation, library: Library, scripts: Page) -> None:
    typed = [{**example(calculation), field.name: text} for field in calculation.inputs for text in BAD] + [{}]
    for given in typed:
        said = str(ours(calculation, given, library).get("error", ""))
        assert "\n" not in said and len(said) < 900
    assert mismatches(calculation, typed, library, scripts) == []


def test_each_procedure_is_used_and_has_draws() -> None:
    assert {entry.procedure for entry in SEARCHES} == set(PROCEDURES) == set(DRAWS)


def test_a_moon_train_for_a_twelve_hour_arbor(library: Library) -> None:
    """46/9 and 104/9 in some order: the best with two meshes, wheels to 120 and pinions from 6 to 16."""
    found = answer(entry_called("best-train"), {"period": "29.530589", "drivers": "6-16", "driven": "17-120", "meshes": "2"}, library)
    period = found.outcome.values["period_found"]
    assert abs(period - Fraction(46 * 104, 81) / 2) == 0
    assert float(found.outcome.values["error_time"]) == pytest.approx(23.8, abs=0.05)


def test_two_questions_at_once_and_none_are_refused(library: Library) -> None:
    for typed in ({}, {"ratio": "60", "period": "2"}):
        with pytest.raises(NoAnswer, match="give the ratio or the period"):
            answer(entry_called("best-train"), typed, library)


def test_what_is_out_of_reach_says_what_can_be_reached(library: Library) -> None:
    with pytest.raises(NoAnswer, match="periods from 0.0008681 to 0.5 d only; let the small counts drive, 6-20 as drivers and 20-144 as driven$"):
        answer(entry_called("best-train"), {"period": "29.53", "driver_hours": "12"}, library)
    assert "train" in answer(entry_called("best-train"), {"period": "29.53", "drivers": "6-20", "driven": "20-144"}, library).outcome.shown
    with pytest.raises(NoAnswer, match="ratios from 1 to 576 only; widen the limits, or allow more meshes$"):
        answer(entry_called("best-train"), {"ratio": "1000"}, library)


def sun_less_clock(day: str) -> float:
    """By PyEphem, in seconds, at noon at Greenwich."""
    observer = ephem.Observer()
    observer.lon, observer.pressure, observer.date = "0", 0, f"{day} 12:00:00"
    hours = float(observer.sidereal_time() - ephem.Sun(observer).g_ra) * 12 / ephem.pi
    return ((hours + 12) % 24 - 12) * 3600


@pytest.mark.parametrize("year", ["1852", "1900", "2026", "2028", "2099"])
def test_the_equation_of_time_of_a_year_is_that_of_the_ephemeris(year: str, library: Library) -> None:
    rows = answer(entry_called("equation-of-time-year"), {"year": year, "every": "1"}, library).outcome.values["answers"]
    assert len(rows) == 365 + (year in ("1852", "2028")) and (rows[0][0], rows[-1][0]) == (f"{year}-01-01", f"{year}-12-31")
    assert max(abs(row[1] - sun_less_clock(row[0])) for row in rows) < 4
    for row in rows[::30]:
        single = answer(entry_called("equation-of-time"), {"date": row[0]}, library).outcome.values["equation"]
        assert row[1] == pytest.approx(single, abs=1e-4)
        minutes, seconds = (int(part) for part in row[3].split(":")[1:])
        assert (minutes * 60 + seconds + 1800) % 3600 - 1800 == -round(row[1])


def test_every_pinion_of_report_and_count_wheel_is_found(library: Library) -> None:
    """Against trying all pairs; 8 pins want 78 blows in 9 3/4 turns of the pin wheel."""
    for pins, blows in ((8, 78), (13, 78), (12, 90), (7, 88)):
        found = answer(entry_called("pins-and-count-wheel"), {"pins": str(pins), "blows": str(blows)}, library).outcome.values.get("answers", ())
        expected = [f"{pinion}/{wheel}" for pinion in range(4, 41) for wheel in range(20, 121) if pins * wheel == blows * pinion]
        assert [pair for pair, _ in found] == expected[:24]


def test_a_count_wheel_that_drifts_is_told(library: Library) -> None:
    verdict = answer(entry_called("pins-and-count-wheel"), {"pins": "16", "report": "5/24", "lock": "65/8", "warning": "60/8"}, library).outcome.values["verdict"]
    assert "76 4/5 blows go by in its turn in place of 78" in verdict and "1 1/5 out" in verdict
    assert "does not come round to its place: it makes 65/128 turns a blow" in verdict and "The warning pin wanders" in verdict


LOST = {"meshes": "84/7 ?/7", "escape_teeth": "32", "pendulum": "180 mm"}


def rows(library: Library, **more: str) -> dict[str, dict[str, str]]:
    found = answer_as_data(entry_called("lost-wheel"), answer(entry_called("lost-wheel"), LOST | more, library), library)
    return {row["train"]["value"]: {name: cell["shown"] for name, cell in row.items()} for row in found["tables"]["answers"]}


def test_a_pendulum_alone_leaves_doubt(library: Library) -> None:
    """With 180 ± 3 mm 77 teeth fit, and 76 and 78 (185 and 176 mm) lie just outside; 78 is the usual count."""
    found = rows(library)
    assert found["84/7 77/7"]["fits"] == "yes" and found["84/7 78/7"]["fits"] == found["84/7 76/7"]["fits"] == "no"
    assert [round(read_number(found[f"84/7 {teeth}/7"]["pendulum"])) for teeth in (76, 78)] == [185, 176]
    verdict = answer(entry_called("lost-wheel"), LOST, library).outcome.values["verdict"]
    assert verdict.startswith("Only 77 fits. But 78") and verdict.endswith("measure again.")


def test_a_wide_measurement_can_not_decide(library: Library) -> None:
    verdict = answer(entry_called("lost-wheel"), LOST | {"pendulum_uncertainty": "8"}, library).outcome.values["verdict"]
    assert "cannot be decided" in verdict and "78" in verdict


def test_a_second_witness_decides(library: Library) -> None:
    """At module 0.4 and 17 mm between centres wheel and pinion have 85 teeth together, so the wheel has 78."""
    found = answer(entry_called("lost-wheel"), LOST | {"pendulum_uncertainty": "8", "distances": "17.0", "modules": "0.4"}, library)
    assert found.outcome.values["lost"] == "78" and found.outcome.values["fitting"] == 1


def test_two_lost_counts_are_found_together(library: Library) -> None:
    found = answer(entry_called("lost-wheel"), {"meshes": "84/7 ?/?", "escape_teeth": "33", "beats": "8825.14", "distances": "17", "modules": "0.4"}, library)
    assert found.outcome.values["lost"] == "78 and 7"


@pytest.mark.parametrize("calculation", SEARCHES, ids=lambda entry: entry.id)
def test_the_answer_can_be_read_and_listed(calculation: Calculation, library: Library) -> None:
    text = answer_as_text(calculation, answer(calculation, example(calculation), library), library)
    assert max(map(len, text.split("\n"))) < 1200 and calculation.results[-1].label in text


def test_a_missing_input_is_named(library: Library) -> None:
    with pytest.raises(GivenError) as caught:
        answer(entry_called("lost-wheel"), {"escape_teeth": "30"}, library)
    assert caught.value.field == "meshes" and "to solve for it" not in caught.value.sentence


def test_calculations_with_procedures_are_listed(library: Library) -> None:
    assert {"best-train", "lost-wheel"} <= {entry.id for entry in calculations(library)}


def releases_and_blows(halves: bool, hands: tuple[int, str], struck: tuple[int, str]) -> tuple[int, int]:
    """By letting the count wheel go on until it has struck what the hands last passed."""
    places = [(hour, at) for hour in range(1, 13) for at in (("hour", "half") if halves else ("hour",))]
    at, heard = places.index(struck), []
    while places[at] != hands:
        at = (at + 1) % len(places)
        heard.append(places[at][0] if places[at][1] == "hour" else 1)
    return len(heard), sum(heard)


@pytest.mark.parametrize("halves", [False, True])
def test_stepping_a_count_wheel_is_what_letting_it_strike_gives(halves: bool, library: Library) -> None:
    stepping = entry_called("strike-stepping")
    states = [(hour, at) for hour in range(1, 13) for at in (("hour", "half") if halves else ("hour",))]
    for hands in states:
        for struck in states:
            typed = {"counts": "halves" if halves else "hours", "hand": str(hands[0]), "hand_at": hands[1], "struck": str(struck[0]), "struck_at": struck[1]}
            values = evaluate(stepping, read_all(stepping, typed, library), library).values
            assert (values["releases"], values["blows"]) == releases_and_blows(halves, hands, struck)
