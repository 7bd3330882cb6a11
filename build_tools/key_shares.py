"""From the frequency words of the knowledge base to shares: how often an outcome shows each answer of a question."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, Protocol

from build_tools.model import Outcome, Question, Row


class Facts(Protocol):
    """What the key reads of the knowledge base."""

    def get(self, ref: str) -> Any: ...
    def of_kind(self, kind: str) -> tuple[Any, ...]: ...
    def outcomes(self, facet: str) -> tuple[Outcome, ...]: ...
    def table(self, id: str) -> Sequence[Row]: ...


WORDS = ("very-likely", "likely", "possible", "unlikely")
"""Rows of constant:key-settings whose `says` are what a visitor reads of a share; the first is kept for a settled outcome."""


@dataclass(frozen=True)
class Settings:
    """The numbers of constant:key-settings; its rows say what each is for."""

    mistakes: float
    damping: float
    settled: float
    worth_asking: float
    parting: float
    alike_left: float
    nearness: float
    unsure_again: float
    most_answers: float
    most_questions: float
    witnesses: float
    telling: float
    outside_most: float
    not_ruled_out: float
    rarer: float
    boxes: float
    likely: float
    possible: float


def read_settings(facts: Facts) -> Settings:
    """The settings of the key. A row that is missing raises KeyError with its name."""
    rows = numbers(facts, "key-settings")
    return Settings(**{field.name: rows[field.name.replace("_", "-")] for field in fields(Settings)})


def numbers(facts: Facts, table_id: str) -> dict[str, float]:
    """The values of a table by the names of its rows."""
    return {row.name: float(row.value) for row in facts.table(table_id) if row.value}


def named_shares(told: Mapping[str, str], answers: Sequence[str], words: Mapping[str, float],
                 rest_like: Sequence[float] | None = None) -> list[float]:
    """Shares, one an answer, summing to one, from the words that an entry gives to some of them.

    Answers without a word share what the others leave: alike, or in the proportions of ``rest_like``.
    """
    shares = [words[told[answer]] if answer in told else 0.0 for answer in answers]
    unnamed = [index for index, answer in enumerate(answers) if answer not in told]
    if unnamed:
        rest = max(1.0 - sum(shares), min(words.values()))
        pattern = [rest_like[index] if rest_like else 1.0 for index in unnamed]
        whole = sum(pattern)
        for index, part in zip(unnamed, pattern):
            shares[index] = rest * (part / whole if whole else 1.0 / len(unnamed))
    return scaled(shares)


def scaled(shares: Sequence[float]) -> list[float]:
    """The shares in the same proportions, summing to one."""
    whole = sum(shares)
    return [share / whole for share in shares]


def question_shares(question: Question, outcomes: Sequence[Outcome], priors: Sequence[float],
                    words: Mapping[str, float], mistakes: float) -> list[list[float]]:
    """Shares of each outcome (rows) for each answer of a question (columns), slips of the observer mixed in.

    An outcome that does not speak of the question gets the average of those that do, so that the answer says nothing
    about it; where the question has ``unless_said``, that holds for it instead.
    """
    answers = [answer.id for answer in question.answers]
    told = [outcome.told_by.get(question.ref) for outcome in outcomes]
    spoken = [named_shares(words_of, answers, words) if words_of else None for words_of in told]
    unspoken = average(spoken, priors, len(answers))
    if question.unless_said:
        unspoken = named_shares(question.unless_said, answers, words, rest_like=unspoken)
    slip = mistakes / len(answers)
    return [[(1.0 - mistakes) * share + slip for share in row or unspoken] for row in spoken]


def average(rows: Sequence[Sequence[float] | None], priors: Sequence[float], length: int) -> list[float]:
    """The average of the rows that are there, weighted by how common each outcome is."""
    there = [(row, prior) for row, prior in zip(rows, priors) if row]
    whole = sum(prior for _, prior in there)
    return [sum(row[index] * prior for row, prior in there) / whole for index in range(length)]
