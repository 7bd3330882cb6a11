"""The key in the page says what the key of the command line says: the same answers through both, in an embedded V8."""
from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from py_mini_racer import MiniRacer

from build_tools.key import Key
from build_tools.key_answers import CANT_TELL, facets
from build_tools.key_export import generated_scripts
from build_tools.library import Library
from tests.knowledge import read_once

ENGINE = Path(__file__).resolve().parent.parent / "docs" / "js" / "key-engine.js"
FIND = """
const find = (facet, answers, viewpoint) => {
  const key = new ClockRef.key.Key(ClockRef.keyData, facet);
  const found = key.find(answers, viewpoint);
  const reasons = (list) => list.map((reason) => key.sentence(reason));
  const ranked = found.ranked.map((one) => ({ ...one, for: reasons(one.for), against: reasons(one.against) }));
  return JSON.stringify({ ...found, ranked, doubtful: reasons(found.doubtful), verdict: key.verdict(found) });
};
"""
SEED, SETS = 1657, 40
FACETS = [row.name for row in facets(read_once()[0])]


@pytest.fixture(scope="module")
def in_page(library: Library) -> Iterator[Callable[..., Any]]:
    """What the page's key finds."""
    with MiniRacer() as engine:
        engine.eval(ENGINE.read_text(encoding="utf-8"))
        engine.eval(generated_scripts(library)["js/key-data.js"])
        engine.eval(FIND)
        yield lambda *given: json.loads(engine.call("find", *given))


def answer_sets(key: Key, viewpoints: list[str]) -> Iterator[tuple[dict[str, str], str]]:
    """None, one, and up to eight answers, some of which can't be told."""
    chance = random.Random(f"{SEED} {key.facet.name}")
    for count in range(SETS):
        asked = chance.sample(list(key.questions), min(count % 9, len(key.questions)))
        yield {question: chance.choice([*key.facet.shares[question], CANT_TELL]) for question in asked}, chance.choice(viewpoints)


@pytest.mark.parametrize("facet", FACETS)
def test_both_keys_find_the_same(facet: str, library: Library, in_page: Callable[..., Any]) -> None:
    key = Key(library, facet)
    for answers, viewpoint in answer_sets(key, ["", *(row.name for row in library.table("viewpoints"))]):
        ours, theirs = key.find(answers, viewpoint), in_page(facet, answers, viewpoint)
        assert [one["share"] for one in theirs["ranked"]] == pytest.approx([one.share for one in ours.ranked], rel=1e-12)
        assert [one["ref"] for one in theirs["ranked"]] == [one.ref for one in ours.ranked]
        assert [one["words"] for one in theirs["ranked"]] == [one.words for one in ours.ranked]
        assert [one["for"] for one in theirs["ranked"]] == [[reason.text for reason in one.reasons_for] for one in ours.ranked]
        assert [one["against"] for one in theirs["ranked"]] == [[reason.text for reason in one.reasons_against] for one in ours.ranked]
        assert (theirs["why"], theirs["finished"], theirs["next"]) == (ours.why, ours.finished, ours.next_question)
        assert (theirs["verdict"], tuple(theirs["together"])) == (ours.verdict, ours.together)
        assert theirs["doubtful"] == [reason.text for reason in ours.doubtful]
