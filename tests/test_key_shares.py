"""From words to shares and from shares to weights, against sums worked by hand."""
from __future__ import annotations

from math import exp, log
from types import SimpleNamespace
from typing import Any

import pytest

from build_tools.key import Key
from build_tools.key_answers import facets
from build_tools.key_shares import named_shares, question_shares
from build_tools.key_weigh import Facet
from build_tools.library import Library
from tests.knowledge import read_once

WORDS = {"always": 0.95, "usually": 0.75, "sometimes": 0.25, "rarely": 0.06, "never": 0.01}


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ({"a": "always"}, [0.95, 0.025, 0.025]),  # the others share the twentieth that is left
        ({"a": "never"}, [0.01, 0.495, 0.495]),
        ({"a": "usually", "b": "usually"}, [0.75 / 1.51, 0.75 / 1.51, 0.01 / 1.51]),  # nothing is left, so the last is as good as never
        ({"a": "usually", "b": "sometimes", "c": "rarely"}, [0.75 / 1.06, 0.25 / 1.06, 0.06 / 1.06]),
        ({"a": "sometimes", "b": "never", "c": "never"}, [0.25 / 0.27, 0.01 / 0.27, 0.01 / 0.27]),
    ],
)
def test_words_become_shares_of_one(told: dict[str, str], expected: list[float]) -> None:
    assert named_shares(told, ["a", "b", "c"], WORDS) == pytest.approx(expected, rel=1e-12)


def question(**more: Any) -> Any:
    answers = tuple(SimpleNamespace(id=name, says=name) for name in "ab")
    return SimpleNamespace(**{"id": "q", "ref": "question:q", "answers": answers, "unless_said": {}, "needless_after": {}, "mentioned": "", "group": "g", **more})


def outcome(name: str, commonness: str, **told: dict[str, str]) -> Any:
    return SimpleNamespace(id=name, ref=f"feature:{name}", name=name, commonness=commonness, look_alikes=(),
                           told_by={f"question:{asked}": words for asked, words in told.items()})


def test_an_outcome_that_does_not_speak_gets_the_average_of_the_others_by_how_common_they_are() -> None:
    outcomes = [outcome("x", "common", q={"a": "always"}), outcome("y", "rare", q={"a": "never"}), outcome("z", "common")]
    rows = question_shares(question(), outcomes, [0.6, 0.2, 0.2], WORDS, 0.0)
    assert rows[2] == pytest.approx([(0.6 * 0.95 + 0.2 * 0.01) / 0.8, (0.6 * 0.05 + 0.2 * 0.99) / 0.8], rel=1e-12)


def test_unless_said_holds_for_what_does_not_speak() -> None:
    outcomes = [outcome("x", "common", q={"a": "always"}), outcome("y", "common")]
    assert question_shares(question(unless_said={"a": "never"}), outcomes, [0.5, 0.5], WORDS, 0.0)[1] == pytest.approx([0.01, 0.99], rel=1e-12)


def test_slips_are_mixed_in() -> None:
    rows = question_shares(question(), [outcome("x", "common", q={"a": "always"})], [1.0], WORDS, 0.1)
    assert rows[0] == pytest.approx([0.9 * 0.95 + 0.05, 0.9 * 0.05 + 0.05], rel=1e-12)


class Little:
    """A knowledge base of two outcomes and three questions; q and r speak of the same thing."""

    def __init__(self, library: Library) -> None:
        self.table = library.table

    def of_kind(self, kind: str) -> tuple[Any, ...]:
        return (question(), question(id="r", ref="question:r"), question(id="s", ref="question:s", group="other"))

    def outcomes(self, facet: str) -> tuple[Any, ...]:
        told = dict.fromkeys("qrs", {"a": "always"}), dict.fromkeys("qrs", {"b": "always"})
        return outcome("x", "common", **told[0]), outcome("y", "common", **told[1])


def share(ratio: float) -> float:
    return ratio / (1.0 + ratio)


def test_answers_about_the_same_thing_are_damped(library: Library) -> None:
    facet = Facet(Little(library), "drive")
    one = log((0.95 * 0.95 + 0.025) / (0.95 * 0.05 + 0.025))  # five in a hundred slips, two answers
    shares = {asked: facet.posterior(facet.weigh({name: ("a",) for name in asked}))[0] for asked in ("q", "qr", "qs")}
    assert shares["q"] == pytest.approx(share(exp(one)), rel=1e-12)
    assert shares["qr"] == pytest.approx(share(exp(2 * one / 1.3)), rel=1e-12)
    assert shares["qs"] == pytest.approx(share(exp(2 * one)), rel=1e-12)


def test_cant_tell_changes_nothing(library: Library) -> None:
    facet = Facet(Little(library), "drive")
    assert facet.posterior(facet.weigh({"q": ("a",), "r": ()})) == facet.posterior(facet.weigh({"q": ("a",)}))


def test_common_things_come_first_while_nothing_is_known(library: Library) -> None:
    facet = Facet(library, "trains")
    shares = facet.posterior(facet.weigh({}))
    weight = {row.name: float(row.value) for row in library.table("commonness")}
    common, rare = (next(place for place, one in enumerate(facet.outcomes) if one.commonness == word) for word in ("common", "rare"))
    assert shares[common] / shares[rare] == pytest.approx(weight["common"] / weight["rare"], rel=1e-12)


def test_from_outside_nothing_is_said_to_be_over_95_in_a_hundred(library: Library) -> None:
    key = Key(library, "trains")
    answers = {"swing": "turning-pendulum", "run-length": "months-or-year", "ticks-per-minute": "to-20", "case-form": "dome"}
    outside, bench = (key.find(answers, place).ranked for place in ("dial-shut", "bench"))
    assert outside[0].share <= 0.95 < bench[0].share
    assert sum(one.share for one in outside) == pytest.approx(1.0, rel=1e-12)
    assert [one.ref for one in outside] == [one.ref for one in bench]


@pytest.mark.parametrize("facet", [row.name for row in facets(read_once()[0])])
def test_one_group_of_signs_never_speaks_firmly(facet: str, library: Library) -> None:
    key = Key(library, facet)
    plan = key.plan()
    for group in {question.group for question in key.questions.values()}:
        asked = [question.id for question in key.questions.values() if question.group == group]
        for index in range(len(key.facet.outcomes)):
            best = {q: (max(key.facet.shares[q], key=lambda answer: key.facet.odds(q, (answer,))[index]),) for q in asked}
            stand = plan.judged(best)
            assert not stand.finished, f"{group}: {best}"
            assert key.words(stand, stand.leader) in ("likely", "possible", "unlikely")
