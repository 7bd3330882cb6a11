"""Numbers as evidence: the standard counts against what was counted, on the command line and in the page."""
from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from py_mini_racer import MiniRacer

from build_tools.commandline import main
from build_tools.key_answers import Unclear
from build_tools.key_export import generated_scripts
from build_tools.key_measured import Judged, as_data, judge, read_numbers, standard_figures
from build_tools.library import Library
from tests.javascript import JS, Page

SEED = 1736


def judged(library: Library, *typed: str) -> Judged:
    return judge(library, read_numbers(library, typed))


def test_the_seconds_pendulum_of_a_house_clock(library: Library) -> None:
    # Goodrich 1905, p. 258: 64 and 60 on eights with 30 teeth beat 60 a minute, and 39.14 in go with it
    found = judged(library, "ticks=30", "pendulum=39.14 in", "round=60")
    assert found.belong and "can belong together" in found.together
    assert "count:seconds-64-60" in {one.count.ref for one in found.fitting}
    assert all(one.fits == ("ticks", "pendulum", "round") for one in found.fitting)


def test_a_pendulum_that_the_ticks_contradict(library: Library) -> None:
    # Goodrich 1905, p. 12: 120 a minute want 9.7848 in
    assert judged(library, "ticks=60", "pendulum=9.8 in").belong
    wrong = judged(library, "ticks=60", "pendulum=17.4 in")
    assert not wrong.belong and not wrong.fitting and "248 mm" in wrong.together
    assert all("pendulum" in one.against or "ticks" in one.against for one in wrong.contradicted)


def test_the_run_parts_counts_with_the_same_beat(library: Library) -> None:
    week, month = judged(library, "ticks=30", "run=8"), judged(library, "ticks=30", "run=32")
    assert {one.count.ref for one in week.fitting if "run" in one.fits}.isdisjoint(one.count.ref for one in month.fitting if "run" in one.fits)
    # Derham 1696, p. 112: twelve turns, 96 on 12 and 72 on 9 go 32 days
    assert "count:month-96-72-12-turns" in {one.count.ref for one in month.fitting}


def test_counted_things_are_answers_of_the_key(library: Library) -> None:
    found = judged(library, "holes=2", "hammers=5", "weights=0", "ticks=60")
    assert found.answers == {"winding-holes": "two", "hammers": "three-five", "weights": "none", "ticks-per-minute": "91-135"}
    assert "sounding-bodies" not in judged(library, "rods=4", "bells=2").answers
    assert judged(library, "holes=3").fitting == ()


def test_every_row_answers_a_question_of_the_key(library: Library) -> None:
    measured = {row.name for row in library.table("measured")}
    for row in library.table("measured-answers"):
        answers = {answer.id for answer in library[f"question:{row.cells['question']}"].answers}
        assert row.cells["measured"] in measured and row.cells["answer"] in answers


def test_every_going_count_with_an_hour_arbor_has_its_figures(library: Library) -> None:
    beats = [figures for _, figures in standard_figures(library) if "ticks" in figures]
    assert len(beats) > 80 and all("pendulum" in figures and "round" in figures for figures in beats)


@pytest.mark.parametrize(("typed", "complaint"), [
    ("tick=60", "did you mean ticks?"), ("ticks=many", "'many' is not a number"), ("ticks", "write name=number"), ("pendulum=-3", "too small"),
    ("pendulum=0", "too small"),
])
def test_what_is_not_understood_gets_one_line(typed: str, complaint: str, library: Library) -> None:
    with pytest.raises(Unclear, match=complaint.replace("?", r"\?")) as said:
        read_numbers(library, [typed])
    assert "\n" not in str(said.value)


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", "--measured", "ticks=30", "--measured", "pendulum=994", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["belong_together"] is True
    assert main(["key", "--measured", "ticks=30", "--measured", "pendulum=25 cm"]) == 1
    assert "don't belong together" in capsys.readouterr().out
    assert main(["key", "trains", "hour-sound=count-one-note", "--measured", "holes=2", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["answers"] == {"winding-holes": "two", "hour-sound": "count-one-note"}


@pytest.fixture(scope="module")
def in_page(library: Library) -> Iterator[Callable[..., Any]]:
    """What the page's twin says of typed numbers."""
    with MiniRacer() as engine:
        Page(engine, library)
        engine.eval(generated_scripts(library)["js/key-numbers-data.js"])
        engine.eval((JS / "key-numbers.js").read_text(encoding="utf-8"))
        engine.eval("""const judged = (typed) => {
          const rows = ClockRef.numbersData.measures;
          const found = ClockRef.numbers.judge(Object.fromEntries(Object.entries(typed).map(([name, text]) => [name, ClockRef.numbers.read(rows.find((row) => row.name === name), text)])));
          const met = (one) => ({ ref: one.count.ref, name: one.count.name, fits: one.fits, against: one.against });
          return JSON.stringify({ belong_together: found.belong, together: found.together, fitting: found.fitting.map(met),
            contradicted: found.contradicted.map(met), answers: Object.fromEntries(found.answers.map((row) => [row.question, row.answer])) });
        };""")
        yield lambda typed: json.loads(engine.call("judged", typed))


def some_numbers() -> Iterator[dict[str, str]]:
    chance = random.Random(SEED)
    ways = {"ticks": lambda: str(chance.choice([0, 30, 51, 60, 73, 150])), "pendulum": lambda: chance.choice(["994", "9.8 in", "25 cm", "150"]),
            "round": lambda: chance.choice(["60", "48"]), "run": lambda: chance.choice(["8", "1.25", "30"]), "holes": lambda: chance.choice("0123"),
            "hammers": lambda: chance.choice("0125"), "rods": lambda: "4", "bells": lambda: "2"}
    for count in range(30):
        names = chance.sample(list(ways), count % 5)
        yield {name: ways[name]() for name in ways if name in names}


def test_both_say_the_same(library: Library, in_page: Callable[..., Any]) -> None:
    for typed in some_numbers():
        ours = as_data(judged(library, *(f"{name}={text}" for name, text in typed.items())))
        assert in_page(typed) == json.loads(json.dumps(ours)), typed
