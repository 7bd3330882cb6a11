"""The key's weighing and planning on many answer sets at once, in NumPy; only the benchmarks need it that fast.

A state is a row of whole numbers, one a question: the number of an answer, then "can't tell", then "not asked".
`same_as_the_key` compares it with the key itself and belongs in front of every measurement.
"""
from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from build_tools.key import Key

Floats = NDArray[np.float64]
States = NDArray[np.int64]
Flags = NDArray[np.bool_]


class Arrays:
    """One facet from one viewpoint; shares may be those of another world than the key's own."""

    def __init__(self, key: Key, viewpoint: str, only: Sequence[str] | None = None) -> None:
        facet = key.facet
        self.key, self.viewpoint, self.facet, self.needs = key, viewpoint, facet, facet.settings
        self.questions = [q for q in key.reach(viewpoint) if only is None or q in only]
        self.outcomes = len(facet.outcomes)
        self.shares = [np.array([facet.shares[q][a] for a in facet.shares[q]]) for q in self.questions]
        self.answers = [len(rows) for rows in self.shares]
        nothing = np.zeros((2, self.outcomes))
        self.logs = [np.vstack([np.log(rows), nothing]) for rows in self.shares]
        self.speaks = [np.vstack([self._odds(q) >= self.needs.telling, nothing > 0]) for q in self.questions]
        self.efforts = np.array([facet.questions[q].effort for q in self.questions], dtype=float)
        self.mentioned = np.array([facet.mentioned[q] for q in self.questions])
        self.unsure = 1.0 - self.mentioned
        names = [facet.questions[q].group for q in self.questions]
        self.groups = sorted(set(names))
        self.group = np.array([self.groups.index(name) for name in names], dtype=int)
        self.priors = np.log(np.array(facet.priors))

    def _odds(self, question: str) -> Floats:
        return np.array([self.facet.odds(question, (answer,)) for answer in self.facet.shares[question]])

    @cached_property
    def alike(self) -> Flags:
        """Whether two outcomes name one another as look-alikes."""
        return np.array([[b in others for b in range(self.outcomes)] for others in self.facet.alike])

    @cached_property
    def parting(self) -> Flags:
        """Outcome by outcome by question: whether the question parts the two."""
        different = [0.5 * np.abs(rows[:, :, None] - rows[:, None, :]).sum(axis=0) for rows in self._all_shares()]
        return np.stack(different, axis=2) >= self.needs.parting

    def _all_shares(self) -> list[Floats]:
        self.all_questions = list(self.key.reach(self.viewpoint))
        return [np.array(list(self.facet.shares[q].values())) for q in self.all_questions]

    def nothing_asked(self, count: int = 1) -> States:
        return np.tile(np.array(self.answers) + 1, (count, 1))

    def asked(self, states: States) -> Flags:
        return states <= np.array(self.answers)

    def told(self, states: States) -> Flags:
        return states < np.array(self.answers)

    def sums(self, states: States) -> tuple[Floats, NDArray[np.int64]]:
        """Sums of logs (states, groups, outcomes) and how many answers each group has (states, groups)."""
        sums = np.zeros((len(states), len(self.groups), self.outcomes))
        told = self.told(states)
        counts = np.zeros((len(states), len(self.groups)), dtype=np.int64)
        for place, logs in enumerate(self.logs):
            sums[:, self.group[place]] += logs[states[:, place]]
            counts[:, self.group[place]] += told[:, place]
        return sums, counts

    def damp(self, counts: NDArray[np.int64]) -> Floats:
        return 1.0 + self.needs.damping * np.maximum(counts - 1, 0)

    def posterior(self, states: States) -> Floats:
        sums, counts = self.sums(states)
        return shares_of(self.priors + (sums / self.damp(counts)[:, :, None]).sum(axis=1))

    def said(self, shares: Floats) -> Floats:
        """Shares as they are said from this viewpoint."""
        return np.array([self.key.said(share, self.viewpoint) for share in shares])

    def settled(self, states: States, shares: Floats) -> Flags:
        """Whether each state has an outcome, or a set of look-alikes, that may be named firmly."""
        leader = leaders(shares)
        alone = shares[np.arange(len(shares)), leader]
        wide = alone + (shares * self.alike[leader]).sum(axis=1)
        firm = np.zeros(len(states), dtype=bool)
        near = np.flatnonzero(wide >= self.needs.settled)
        if len(near):
            group = alone[near] + (shares[near] * self._not_parted(states[near], leader[near])).sum(axis=1)
            enough = (alone[near] >= self.needs.settled) | (group >= self.needs.settled)
            confirmed = self.witnesses(states[near], leader[near]) >= self.needs.witnesses
            firm[near] = enough & confirmed & ~self._alike_left(states[near], shares[near], leader[near])
        return firm

    def _alike_left(self, states: States, shares: Floats, leader: NDArray[np.int64]) -> Flags:
        """Whether a look-alike outside the group that is named has a chance worth a look, and a question still open parts it."""
        alone = shares[np.arange(len(shares)), leader]
        may_part = self.alike[leader] & ~self._not_parted(states, leader)
        return (may_part & (shares > (self.needs.alike_left * alone)[:, None])).any(axis=1)

    def _not_parted(self, states: States, leader: NDArray[np.int64]) -> Flags:
        parting = self.parting[leader]
        closed = np.zeros((len(states), parting.shape[2]), dtype=bool)
        closed[:, [self.all_questions.index(q) for q in self.questions]] = self.asked(states) | self.all_needless(states)
        return self.alike[leader] & ~(parting & ~closed[:, None, :]).any(axis=2)

    def all_needless(self, states: States) -> Flags:
        return np.stack([self.needless(states, place) for place in range(len(self.questions))], axis=1)

    def witnesses(self, states: States, leader: NDArray[np.int64]) -> NDArray[np.int64]:
        found = np.zeros((len(states), len(self.groups)), dtype=bool)
        for place, speaks in enumerate(self.speaks):
            found[:, self.group[place]] |= speaks[states[:, place], leader]
        return found.sum(axis=1)

    def chances(self, shares: Floats, place: int) -> Floats:
        """For each state the chance of each answer to a question, "can't tell" the last."""
        told = (1.0 - self.unsure[place]) * shares @ self.shares[place].T
        return np.hstack([told, np.full((len(shares), 1), self.unsure[place])])

    def next_questions(self, states: States, shares: Floats) -> NDArray[np.int64]:
        """The place of the question that the key puts next in each state; -1 where none helps."""
        worth = np.full((len(states), len(self.questions)), -1.0)
        sums, counts = self.sums(states)
        scores = self.priors + (sums / self.damp(counts)[:, :, None]).sum(axis=1)
        for place in range(len(self.questions)):
            here = np.flatnonzero(~self.asked(states)[:, place] & ~self.needless(states, place))
            if len(here):
                worth[here, place] = self._worth(states[here], shares[here], sums[here], counts[here], scores[here], place)
        best = np.round(worth, 12).argmax(axis=1)
        return np.where(worth.max(axis=1) < 0, -1, best)

    def needless(self, states: States, place: int) -> Flags:
        """Whether another answer has told already what a question asks."""
        found = np.zeros(len(states), dtype=bool)
        for ref, answers in self.facet.questions[self.questions[place]].needless_after.items():
            other = ref.partition(":")[2]
            if other in self.questions:
                known = list(self.facet.shares[other])
                found |= np.isin(states[:, self.questions.index(other)], [known.index(answer) for answer in answers])
        return found

    def _worth(self, states: States, shares: Floats, sums: Floats, counts: NDArray[np.int64], scores: Floats, place: int) -> Floats:
        group, rows = self.group[place], self.shares[place]
        others = scores - sums[:, group] / self.damp(counts)[:, group, None]
        logs = self.logs[place][:-2]
        after = shares_of(others[:, None] + (sums[:, group, None] + logs) / self.damp(counts[:, group] + 1)[:, None, None])
        chance = shares @ rows.T
        leader = leaders(shares)
        top = shares[np.arange(len(shares)), leader]
        there = np.take_along_axis(after, leader[:, None, None], axis=2)[:, :, 0]
        movement = (chance * np.maximum(np.abs(there - top[:, None]), np.abs(after.max(axis=2) - top[:, None]))).sum(axis=1)
        nearer = np.maximum((chance * (after**2).sum(axis=2)).sum(axis=1) - (shares**2).sum(axis=1), 0.0)
        ends = (chance * self._ends(states, after, place)).sum(axis=1)
        useful = (movement >= self.needs.worth_asking) | (ends >= self.needs.worth_asking)
        return np.where(useful, self.score(states, ends, nearer, place), -1.0)

    def score(self, states: States, ends: Floats, nearer: Floats, place: int) -> Floats:
        """The worth of a question, as build_tools.key_plan.Plan.worth has it."""
        unsure = (self.asked(states) & ~self.told(states))[:, self.group == self.group[place]].sum(axis=1)
        return (ends + self.needs.nearness * nearer) * self.mentioned[place] * self.needs.unsure_again ** unsure / np.sqrt(self.efforts[place])

    def _ends(self, states: States, after: Floats, place: int) -> Flags:
        firm = np.empty(after.shape[:2], dtype=bool)
        for answer in range(after.shape[1]):
            changed = states.copy()
            changed[:, place] = answer
            firm[:, answer] = self.settled(changed, after[:, answer])
        return firm


def shares_of(scores: Floats) -> Floats:
    """Shares that sum to one along the last axis, from logarithms of weights."""
    weights = np.exp(scores - scores.max(axis=-1, keepdims=True))
    return weights / weights.sum(axis=-1, keepdims=True)


def leaders(shares: Floats) -> NDArray[np.int64]:
    return np.round(shares, 12).argmax(axis=-1)


def same_as_the_key(arrays: Arrays, states: States) -> None:
    """Raises AssertionError where these sums and the key's own part ways."""
    shares = arrays.posterior(states)
    firm, following = arrays.settled(states, shares), arrays.next_questions(states, shares)
    plan = arrays.key.plan(arrays.viewpoint)
    for state, share, settled, place in zip(states, shares, firm, following):
        evidence = {q: (tuple(arrays.facet.shares[q])[a],) if a < count else ()
                    for q, a, count in zip(arrays.questions, state, arrays.answers) if a <= count}
        stand = plan.judged(evidence)
        np.testing.assert_allclose(share, stand.shares, rtol=1e-9)
        assert bool(settled) == stand.finished, evidence
        assert (arrays.questions[place] if place >= 0 else None) == plan.next_question(evidence), evidence
