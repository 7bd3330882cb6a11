"""Described clocks, each with what is truly inside: with all that is seen, and asked one question after another."""
from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from build_tools.key import Finding, Key
from build_tools.key_answers import CANT_TELL, read_viewpoint
from build_tools.key_plan import ENOUGH, OPEN
from build_tools.library import Library

CASES = Path(__file__).parent / "cases"


def described() -> list[Any]:
    files = [yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted(CASES.glob("*.yaml"))]
    return [pytest.param({**clock, "facet": file["facet"]}, id=f"{file['facet']}/{clock['id']}") for file in files for clock in file["clocks"]]


@cache
def key_of(library: Library, facet: str) -> Key:
    return Key(library, facet)


def asked_through(key: Key, clock: dict[str, Any]) -> tuple[dict[str, str], Finding]:
    """The answers and the finding when the visitor goes on until the key is sure, has nothing to ask, or six are told.

    What the description leaves out can't be told.
    """
    answers: dict[str, str] = {}
    while (found := key.find(answers, clock["viewpoint"])).why in (OPEN, ENOUGH) and told(answers) < 6 and found.next_question:
        answers[found.next_question] = clock["answers"].get(found.next_question, CANT_TELL)
    return answers, found


def told(answers: dict[str, str]) -> int:
    return sum(answer != CANT_TELL for answer in answers.values())


def is_right(found: Finding, clock: dict[str, Any]) -> bool:
    """The right outcome stands first, or is among those said not to be told apart from the first."""
    return clock["right"] in (found.ranked[0].ref, *found.together)


@pytest.mark.parametrize("clock", described())
def test_a_described_clock_is_what_it_is(clock: dict[str, Any], library: Library) -> None:
    key = key_of(library, clock["facet"])
    read_viewpoint(library, clock["viewpoint"])
    assert all(answer in key.facet.shares[question] for question, answer in clock["answers"].items())
    assert is_right(key.find(clock["answers"], clock["viewpoint"]), clock)


@pytest.mark.parametrize("clock", described())
def test_the_key_asks_its_way_to_it(clock: dict[str, Any], library: Library) -> None:
    key = key_of(library, clock["facet"])
    answers, found = asked_through(key, clock)
    assert is_right(found, clock)
    assert told(answers) <= 6
    assert set(answers) <= set(key.reach(clock["viewpoint"]))


@pytest.mark.parametrize("clock", described())
def test_nothing_is_called_certain(clock: dict[str, Any], library: Library) -> None:
    found = key_of(library, clock["facet"]).find(clock["answers"], clock["viewpoint"])
    words = " ".join([found.verdict, *(one.words for one in found.ranked)])
    assert "certain" not in words.lower()


def test_one_decisive_sign_is_not_enough_to_speak_firmly(library: Library) -> None:
    key = key_of(library, "trains")
    one = key.find({"swing": "turning-pendulum"}, "dial-shut")
    assert one.ranked[0].ref == "train:torsion" and one.ranked[0].words != "very likely" and not one.finished
    two = key.find({"swing": "turning-pendulum", "run-length": "months-or-year"}, "dial-shut")
    assert two.ranked[0].words == "very likely" and two.finished


def test_what_contradicts_itself_fits_nothing(library: Library) -> None:
    answers = {"hour-sound": "ship-pairs", "swing": "turning-pendulum", "weights": "three", "flies": "three", "bird-doors": "two", "clock-moves": "travels"}
    found = key_of(library, "trains").find(answers)
    assert found.nothing_fits and found.finished and found.why == "nothing fits"


def test_an_answer_that_does_not_fit_is_to_be_looked_at_again(library: Library) -> None:
    answers = {"case-form": "chalet", "hour-sound": "bird", "bird-doors": "one", "weights": "two", "run-length": "months-or-year"}
    found = key_of(library, "trains").find(answers, "dial-shut")
    assert found.ranked[0].ref == "train:cuckoo"
    assert [reason.question for reason in found.doubtful] == ["run-length"]
