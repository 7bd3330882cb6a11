"""Weighing: what a set of answers says about the outcomes of one facet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import exp, log

from build_tools.key_shares import Facts, Settings, numbers, question_shares, read_settings, scaled
from build_tools.model import Outcome, Question

USUAL = "usually"

Evidence = Mapping[str, tuple[str, ...]]
"""Question id → the answers that may hold: one, or several where a chart takes them together."""


@dataclass(frozen=True)
class State:
    """Answers weighed so far: for each group the sum of log-likelihoods (one an outcome) and how many answers it has."""

    sums: Mapping[str, tuple[float, ...]]
    counts: Mapping[str, int]


class Facet:
    """The outcomes of one facet with the shares of every question that tells them apart."""

    def __init__(self, facts: Facts, name: str) -> None:
        self.name = name
        self.settings: Settings = read_settings(facts)
        self.words = numbers(facts, "frequency-words")
        self.outcomes: tuple[Outcome, ...] = tuple(facts.outcomes(name))
        common = numbers(facts, "commonness")
        self.priors = scaled([common[outcome.commonness or "uncommon"] for outcome in self.outcomes])
        spoken = {ref for outcome in self.outcomes for ref in outcome.told_by}
        self.questions: dict[str, Question] = {q.id: q for q in facts.of_kind("question") if q.ref in spoken}
        self.shares: dict[str, dict[str, tuple[float, ...]]] = {q.id: self._by_answer(q) for q in self.questions.values()}
        self.logs = {question: {answer: tuple(map(log, row)) for answer, row in rows.items()} for question, rows in self.shares.items()}
        self.alike = self._look_alikes()
        self.mentioned = {q.id: self.words[q.mentioned or USUAL] for q in self.questions.values()}
        self._odds: dict[tuple[str, tuple[str, ...]], tuple[float, ...]] = {}

    def _by_answer(self, question: Question) -> dict[str, tuple[float, ...]]:
        rows = question_shares(question, self.outcomes, self.priors, self.words, self.settings.mistakes)
        return {answer.id: tuple(row[index] for row in rows) for index, answer in enumerate(question.answers)}

    def _look_alikes(self) -> tuple[frozenset[int], ...]:
        """For each outcome the others that it names, or that name it, as look-alikes."""
        place = {outcome.ref: index for index, outcome in enumerate(self.outcomes)}
        pairs = [(place[outcome.ref], place[alike.with_]) for outcome in self.outcomes
                 for alike in outcome.look_alikes if alike.with_ in place]
        return tuple(frozenset({b for a, b in pairs if a == index} | {a for a, b in pairs if b == index})
                     for index in range(len(self.outcomes)))

    def needless(self, question_id: str, evidence: Evidence) -> bool:
        """Whether another answer has told already what a question asks: whoever heard nothing is not asked for the tune."""
        after = self.questions[question_id].needless_after
        told = [(evidence.get(ref.partition(":")[2]), answers) for ref, answers in after.items()]
        return any(said and set(said) <= set(answers) for said, answers in told)

    def likelihood(self, question_id: str, answers: tuple[str, ...]) -> tuple[float, ...]:
        """For each outcome the chance that one of these answers is given."""
        rows = [self.shares[question_id][answer] for answer in answers]
        return rows[0] if len(rows) == 1 else tuple(map(sum, zip(*rows)))

    def odds(self, question_id: str, answers: tuple[str, ...]) -> tuple[float, ...]:
        """For each outcome, how many times likelier the answer is there than with the other outcomes together."""
        key = (question_id, answers)
        if key not in self._odds:
            here = self.likelihood(question_id, answers)
            whole = sum(prior * share for prior, share in zip(self.priors, here))
            self._odds[key] = tuple(share * (1.0 - prior) / (whole - prior * share) if prior < 1.0 else 1.0
                                    for prior, share in zip(self.priors, here))
        return self._odds[key]

    def weigh(self, evidence: Evidence) -> State:
        """The answers put together by groups, in the order of the questions."""
        state = State({}, {})
        for question_id in self.questions:
            if question_id in evidence:
                state = self.add(state, question_id, evidence[question_id])
        return state

    def add(self, state: State, question_id: str, answers: tuple[str, ...]) -> State:
        """The state after one more answer. No answer at all (``()``) means that it can't be told."""
        if not answers:
            return state
        group = self.questions[question_id].group
        before = state.sums.get(group, (0.0,) * len(self.outcomes))
        logs = tuple(old + log(share) for old, share in zip(before, self.likelihood(question_id, answers)))
        return State({**state.sums, group: logs}, {**state.counts, group: state.counts.get(group, 0) + 1})

    def scores(self, state: State) -> list[float]:
        """Log of each outcome's weight: how common it is, and each group's answers, damped."""
        scores = [log(prior) for prior in self.priors]
        for group in sorted(state.sums):
            damp = 1.0 + self.settings.damping * (state.counts[group] - 1)
            scores = [score + value / damp for score, value in zip(scores, state.sums[group])]
        return scores

    def afterwards(self, state: State, question_id: str) -> Iterator[tuple[str, list[float]]]:
        """For each answer that a question could get, the shares after it."""
        group = self.questions[question_id].group
        others = State({name: logs for name, logs in state.sums.items() if name != group}, state.counts)
        scores = self.scores(others)
        before = state.sums.get(group, (0.0,) * len(self.outcomes))
        damp = 1.0 + self.settings.damping * state.counts.get(group, 0)
        for answer, logs in self.logs[question_id].items():
            yield answer, normal([score + (old + new) / damp for score, old, new in zip(scores, before, logs)])

    def posterior(self, state: State) -> list[float]:
        """The share of each outcome, summing to one."""
        return normal(self.scores(state))

    def witnesses(self, evidence: Evidence, outcome: int) -> set[str]:
        """The groups with an answer that speaks for the outcome."""
        return {self.questions[question_id].group for question_id, answers in evidence.items()
                if answers and self.odds(question_id, answers)[outcome] >= self.settings.telling}


def normal(scores: list[float]) -> list[float]:
    """Shares that sum to one from logarithms of weights."""
    top = max(scores)
    return scaled([exp(score - top) for score in scores])


def exactly(value: float) -> float:
    """The value to twelve decimals, so that sums taken in another order, or another language, compare alike."""
    return round(value, 12)


def leader_of(shares: Sequence[float]) -> int:
    """The outcome with the greatest share, the first of several."""
    top = exactly(max(shares))
    return next(index for index, share in enumerate(shares) if exactly(share) == top)
