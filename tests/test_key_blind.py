"""Clocks described by someone who had not seen the key's shares. The key is not right on all of them, and the misses are named."""
from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from build_tools.key import Finding, Key
from build_tools.key_answers import CANT_TELL, read_viewpoint
from build_tools.key_plan import ALIKE, ENOUGH, NO_MORE, OPEN, SETTLED
from build_tools.library import Library

CASES = Path(__file__).parent / "cases"
MOST = 6
MISSED = {
    "second-count-missed": "the description holds a wrong answer beside one that contradicts it: a slip, and a single other witness",
}
MISSED_WHEN_ASKED = {
    "second-count-missed": "the same slip, asked for before the count wheel has a second witness",
    "empty-holes-stepping-hand": "few clocks have empty holes, so they are asked about too late",
}


def clocks(folder: str) -> list[dict[str, Any]]:
    files = [yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((CASES / folder).glob("*.yaml"))]
    return [{**clock, "facet": file["facet"]} for file in files for clock in file["clocks"]]


@cache
def key_of(library: Library, facet: str) -> Key:
    return Key(library, facet)


def is_right(found: Finding, clock: dict[str, Any]) -> bool:
    """The right outcome stands first or among those said not to be told apart.

    Several right ones can't be told apart from there: one of them stands first, and the words don't rule out the others.
    """
    right = set(clock["right"] if isinstance(clock["right"], list) else [clock["right"]])
    named = {found.ranked[0].ref, *(found.together if found.why in (ALIKE, NO_MORE, ENOUGH) else ())}
    claims_more = found.why in (SETTLED, ALIKE) and not right <= named
    return bool(right & named) if len(right) == 1 else found.ranked[0].ref in right and not claims_more


def all_told(clock: dict[str, Any], library: Library) -> Finding:
    return key_of(library, clock["facet"]).find(clock["answers"], clock["viewpoint"])


def known(clock: dict[str, Any]) -> dict[str, str]:
    """The answers; whoever knows the sort of mantel case knows that it is one."""
    mantel = clock["answers"].get("mantel-kind", "other") != "other"
    return ({"case-form": "mantel"} if mantel else {}) | clock["answers"]


def asked_through(clock: dict[str, Any], library: Library, most: int = 99) -> Finding:
    """The finding when the visitor goes on until six answers are told; what the description leaves out can't be told.

    With `most` he stops after that many questions, those that can't be told counted.
    """
    key, answers, knows = key_of(library, clock["facet"]), dict[str, str](), known(clock)
    while (found := key.find(answers, clock["viewpoint"])).why in (OPEN, ENOUGH) and found.next_question and len(answers) < most:
        if sum(answer != CANT_TELL for answer in answers.values()) >= MOST:
            break
        answers[found.next_question] = knows.get(found.next_question, CANT_TELL)
    return found


BLIND = clocks("blind") + clocks("blind2")


@pytest.mark.parametrize("clock", BLIND, ids=[clock["id"] for clock in BLIND])
def test_each_description_uses_words_that_the_key_knows(clock: dict[str, Any], library: Library) -> None:
    key = key_of(library, clock["facet"])
    read_viewpoint(library, clock["viewpoint"])
    assert all(answer in key.facet.shares[question] for question, answer in clock["answers"].items() if question in key.questions)


@pytest.mark.parametrize("clock", BLIND, ids=[clock["id"] for clock in BLIND])
def test_a_clock_described_blind_with_all_that_was_seen(clock: dict[str, Any], library: Library) -> None:
    assert is_right(all_told(clock, library), clock) is (clock["id"] not in MISSED)


@pytest.mark.parametrize("clock", BLIND, ids=[clock["id"] for clock in BLIND])
def test_a_clock_described_blind_asked_through(clock: dict[str, Any], library: Library) -> None:
    assert is_right(asked_through(clock, library), clock) is (clock["id"] not in MISSED_WHEN_ASKED)


def share_right(found: list[bool]) -> float:
    return sum(found) / len(found)


def test_six_questions_put_settle_most_and_say_nothing_firm_that_is_wrong(library: Library) -> None:
    found = [(asked_through(clock, library, MOST), clock) for clock in BLIND]
    assert share_right([is_right(*pair) for pair in found]) >= 0.85
    assert share_right([one.why == SETTLED and not is_right(one, clock) for one, clock in found]) <= 0.03
