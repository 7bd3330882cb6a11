"""Identification: ranked outcomes with reasons, the next question to ask, and when to stop."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from math import log

from build_tools.key_answers import CANT_TELL
from build_tools.key_plan import ALIKE, ENOUGH, NO_MORE, OPEN, SETTLED, Plan, Stand
from build_tools.key_shares import Facts
from build_tools.key_weigh import Evidence, Facet, exactly
from build_tools.model import Outcome, Question

EVERYWHERE = ""
NOTHING_FITS = "nothing fits"
LESS_ELSEWHERE = ", but elsewhere less still"
MORE_ELSEWHERE = ", but elsewhere more often"
ONE_OF = "Very likely one of these, which can't be told apart from here:"
NOT_APART = "can't be told apart from here"
NOT_APART_FROM = "From here it can't be told apart from:"
LOOK_AGAIN = "None of the outcomes fits these answers: look again, or it is a kind that is not described here."
STOPPED = {OPEN: "Not settled yet.", NO_MORE: "It can't be told from here.", ENOUGH: "Not settled by these answers."}


@dataclass(frozen=True)
class Reason:
    """One answer that speaks for or against an outcome."""

    question: str
    answer: str
    word: str
    odds: float
    text: str


@dataclass(frozen=True)
class Ranked:
    """One outcome (its place in the facet) with its share (0 to 1), the words for it, and what speaks for and against it."""

    index: int
    ref: str
    id: str
    name: str
    share: float
    words: str
    reasons_for: tuple[Reason, ...]
    reasons_against: tuple[Reason, ...]


@dataclass(frozen=True)
class Finding:
    """What the key says after some answers."""

    ranked: tuple[Ranked, ...]
    together: tuple[str, ...]
    finished: bool
    why: str
    verdict: str
    nothing_fits: bool
    doubtful: tuple[Reason, ...]
    next_question: str | None


class Key:
    """The key of one facet: ``trains``, ``addons``, or a facet of the features."""

    def __init__(self, facts: Facts, facet: str) -> None:
        self.facet = Facet(facts, facet)
        self._also = {row.name: {row.name, *row.cells["sees"]} for row in facts.table("viewpoints")}
        self._inside = {row.name for row in facts.table("viewpoints") if row.cells.get("inside")}
        self._phrases = {row.name: row.says for row in facts.table("frequency-words")}
        self._words = {row.name: row.says for row in facts.table("key-settings")}
        self._plans: dict[str, Plan] = {}

    @property
    def questions(self) -> dict[str, Question]:
        """The questions that this facet can use, by id."""
        return self.facet.questions

    def outcome(self, ref: str) -> Outcome:
        """The entry of an outcome of this facet."""
        return next(outcome for outcome in self.facet.outcomes if outcome.ref == ref)

    def reach(self, viewpoint: str = EVERYWHERE) -> tuple[str, ...]:
        """The ids of the questions that can be answered from a viewpoint; without one, all."""
        seen = self._also.get(viewpoint)
        return tuple(q.id for q in self.questions.values() if seen is None or seen & set(q.viewpoints))

    def plan(self, viewpoint: str = EVERYWHERE) -> Plan:
        """The plan of questions from a viewpoint."""
        if viewpoint not in self._plans:
            self._plans[viewpoint] = Plan(self.facet, self.reach(viewpoint))
        return self._plans[viewpoint]

    def next_question(self, answers: Mapping[str, str], viewpoint: str = EVERYWHERE) -> str | None:
        """The id of the question to ask next, also after the key has stopped; None when none tells anything more."""
        return self.plan(viewpoint).next_question(self.evidence(answers))

    def finished(self, answers: Mapping[str, str], viewpoint: str = EVERYWHERE) -> bool:
        return self.plan(viewpoint).stand(self.evidence(answers)).finished

    def find(self, answers: Mapping[str, str], viewpoint: str = EVERYWHERE) -> Finding:
        """Everything the key says after these answers (question id → answer id, or ``cant-tell``)."""
        evidence = self.evidence(answers)
        plan = self.plan(viewpoint)
        stand = plan.stand(evidence)
        ranked = self._rank(evidence, stand, viewpoint)
        lost = self._nothing_fits(evidence, stand)
        return Finding(
            ranked=ranked, together=tuple(self.facet.outcomes[index].ref for index in stand.together),
            finished=stand.finished or lost, why=NOTHING_FITS if lost else stand.why,
            verdict=LOOK_AGAIN if lost else verdict(stand, ranked),
            nothing_fits=lost, doubtful=tuple(r for r in ranked[0].reasons_against if r.word == self._least()),
            next_question=plan.next_question(evidence))

    def evidence(self, answers: Mapping[str, str]) -> Evidence:
        """Answers as the engine weighs them; those to questions of other facets are left out."""
        return {question: () if answer == CANT_TELL else (answer,)
                for question, answer in answers.items() if question in self.questions}

    def _rank(self, evidence: Evidence, stand: Stand, viewpoint: str) -> tuple[Ranked, ...]:
        order = sorted(range(len(stand.shares)), key=lambda index: -exactly(stand.shares[index]))
        return tuple(self._ranked(index, evidence, stand, viewpoint) for index in order)

    def _ranked(self, index: int, evidence: Evidence, stand: Stand, viewpoint: str) -> Ranked:
        outcome = self.facet.outcomes[index]
        reasons = self.reasons(evidence, index)
        return Ranked(index, outcome.ref, outcome.id, outcome.name, self.said(stand.shares[index], viewpoint), self.words(stand, index),
                      tuple(r for r in reasons if r.odds > 1.0), tuple(r for r in reasons if r.odds < 1.0))

    def said(self, share: float, viewpoint: str) -> float:
        """The share as it is said: from outside a little is kept back, alike for all, so that none passes the greatest that may be said."""
        count = len(self.facet.outcomes)
        kept = 0.0 if viewpoint in self._inside or count < 2 else (1.0 - self.facet.settings.outside_most) * count / (count - 1)
        return (1.0 - kept) * share + kept / count

    def words(self, stand: Stand, index: int) -> str:
        """What a visitor reads for a share. The highest word needs a settled outcome, witnesses and all."""
        needs, share = self.facet.settings, stand.shares[index]
        if index in stand.together and stand.why == ALIKE:
            return NOT_APART
        if stand.why == SETTLED and index == stand.leader:
            return self._words["very-likely"]
        name = "likely" if share >= needs.likely else "possible" if share >= needs.possible else "unlikely"
        return self._words[name]

    def reasons(self, evidence: Evidence, index: int) -> list[Reason]:
        """The answers that speak for or against an outcome, the strongest first."""
        least = log(self.facet.settings.telling)
        told = [self._reason(question_id, answers, index) for question_id, answers in evidence.items() if answers]
        return sorted((r for r in told if abs(log(r.odds)) >= least), key=lambda r: -exactly(abs(log(r.odds))))

    def _reason(self, question_id: str, answers: tuple[str, ...], index: int) -> Reason:
        odds = self.facet.odds(question_id, answers)[index]
        word = self.word(question_id, answers[0], index)
        question = self.questions[question_id]
        says = next(a.says for a in question.answers if a.id == answers[0])
        return Reason(question_id, answers[0], word, odds, f"{question.asks} {says}: {self._phrase(word, odds)}")

    def _phrase(self, word: str, odds: float) -> str:
        often = self.facet.words[word] >= self.facet.words["sometimes"]
        if odds > 1.0 and not often:
            return self._phrases[word] + LESS_ELSEWHERE
        if odds < 1.0 and often:
            return self._phrases[word] + MORE_ELSEWHERE
        return self._phrases[word]

    def word(self, question_id: str, answer: str, index: int) -> str:
        """The frequency word nearest to an outcome's share of an answer, slips taken out again."""
        slips = self.facet.settings.mistakes
        row = self.facet.shares[question_id]
        share = (row[answer][index] - slips / len(row)) / (1.0 - slips)
        return min(self.facet.words, key=lambda word: abs(log(self.facet.words[word] / share)))

    def _least(self) -> str:
        return min(self.facet.words, key=self.facet.words.__getitem__)

    def _nothing_fits(self, evidence: Evidence, stand: Stand) -> bool:
        """Whether nearly all that is left is contradicted from two sides."""
        needs = self.facet.settings
        left = range(len(stand.shares))
        contradicted = [index for index in left if len(self._contradicting(evidence, index)) >= needs.witnesses]
        return sum(stand.shares[index] for index in contradicted) >= needs.settled

    def _contradicting(self, evidence: Evidence, index: int) -> Collection[str]:
        return {self.questions[r.question].group for r in self.reasons(evidence, index)
                if r.odds < 1.0 and r.word == self._least()}


def verdict(stand: Stand, ranked: tuple[Ranked, ...]) -> str:
    """One or two sentences for the visitor. Nothing is ever called certain."""
    if stand.why == SETTLED:
        return f"Very likely: {ranked[0].name}."
    level = ranked[0].words
    names = "; ".join(one.name for one in ranked if one.words == level)
    if stand.why == ALIKE:
        return f"{ONE_OF} {names}."
    said = f"{STOPPED[stand.why]} {level.capitalize()}: {names}."
    beside = [one.name for one in ranked if one.index in stand.together and one.words != level]
    return f"{said} {NOT_APART_FROM} {'; '.join(beside)}." if beside and stand.finished else said
