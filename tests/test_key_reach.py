"""Every outcome is reached in the live key from each place that can see it, or said to be hidden from there."""
from __future__ import annotations

from functools import cache

import pytest

from build_tools.key import Finding, Key
from build_tools.key_answers import facets
from build_tools.key_plan import ENOUGH, NO_MORE, OPEN
from build_tools.key_reach import hidden_from, usual_answers
from build_tools.library import Library
from tests.knowledge import read_once

FACETS = [row.name for row in facets(read_once()[0])]
UNSEEN = {"train:pull-repeat": "ear", "feature:dummy-hole": "back", "addon:moon-arch": "ear"}


@cache
def found_with(key: Key, viewpoint: str, *answers: tuple[str, str]) -> Finding:
    """What the key finds: many clocks give the same first answers."""
    return key.find(dict(answers), viewpoint)


def led_to(key: Key, viewpoint: str, outcome: int) -> set[str]:
    """What stands first, or is named beside it or as its look-alike, when a typical clock answers all that is asked.

    Where the key knows nothing to ask, the visitor takes up the other questions of the page.
    """
    answers: dict[str, str] = {}
    usual = {question: said[0] for question, said in usual_answers(key, outcome, viewpoint).items()}
    while (found := found_with(key, viewpoint, *answers.items())).why in (OPEN, ENOUGH) and found.next_question:
        answers[found.next_question] = usual[found.next_question]
    if found.why == NO_MORE:
        found = key.find(usual, viewpoint)
    leader = found.ranked[0]
    return {leader.ref, *found.together, *(alike.with_ for alike in key.outcome(leader.ref).look_alikes)}


@pytest.mark.parametrize("facet", FACETS)
def test_what_is_not_hidden_is_reached(facet: str, library: Library) -> None:
    key = Key(library, facet)
    for viewpoint in (row.name for row in library.table("viewpoints") if len(key.reach(row.name)) > 2):
        hidden = hidden_from(key, viewpoint)
        for index, outcome in enumerate(key.facet.outcomes):
            assert index in hidden or outcome.ref in led_to(key, viewpoint, index), (viewpoint, outcome.ref)


@pytest.mark.parametrize("facet", FACETS)
def test_each_outcome_is_seen_from_somewhere(facet: str, library: Library) -> None:
    key = Key(library, facet)
    places = [row.name for row in library.table("viewpoints") if key.reach(row.name)]
    assert not set.intersection(*(set(hidden_from(key, place)) for place in places))


@pytest.mark.parametrize(("ref", "viewpoint"), UNSEEN.items())
def test_what_nobody_can_see_from_there_is_said_to_be_hidden(ref: str, viewpoint: str, library: Library) -> None:
    key = Key(library, library[ref].facet if not ref.startswith(("train", "addon")) else f"{ref.partition(':')[0]}s")
    assert ref in {key.facet.outcomes[index].ref for index in hidden_from(key, viewpoint)}
