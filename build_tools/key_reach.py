"""What can be told from a viewpoint at all, and what stays hidden there whatever is answered."""

from __future__ import annotations

from build_tools.key import Key
from build_tools.key_weigh import Evidence, leader_of


def usual_answers(key: Key, outcome: int, viewpoint: str) -> Evidence:
    """The answer that an outcome (its place in the facet) shows most often to every question in reach."""
    shares = key.facet.shares
    return {question: (max(shares[question], key=lambda answer: shares[question][answer][outcome]),) for question in key.reach(viewpoint)}


def hidden_from(key: Key, viewpoint: str) -> tuple[int, ...]:
    """The outcomes that their own usual answers to everything in reach don't bring to the front, nor among the look-alikes named with it."""
    return tuple(index for index in range(len(key.facet.outcomes)) if _hidden(key, index, viewpoint))


def _hidden(key: Key, index: int, viewpoint: str) -> bool:
    evidence = usual_answers(key, index, viewpoint)
    leader = leader_of(key.facet.posterior(key.facet.weigh(evidence)))
    return index not in key.plan(viewpoint).together(leader, evidence)
