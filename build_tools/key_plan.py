"""Planning: whether enough is known, and which question to ask next from where the observer stands."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from math import sqrt

from build_tools.key_weigh import Evidence, Facet, State, exactly, leader_of

OPEN, SETTLED, ALIKE, NO_MORE, ENOUGH = "open", "settled", "look-alikes", "no more from here", "enough asked"


@dataclass(frozen=True)
class Stand:
    """Where the questioning stands: the shares, the leading outcome and those not told apart from it, and why it stops."""

    shares: tuple[float, ...]
    leader: int
    together: tuple[int, ...]
    why: str

    @property
    def finished(self) -> bool:
        return self.why != OPEN


@dataclass(frozen=True)
class Candidate:
    """A question that could come next, with what is expected of it."""

    question_id: str
    ends: float
    movement: float
    nearer: float
    mentioned: float
    effort: float
    unsure: int


class Plan:
    """Plans the questions of one facet for an observer who can answer the questions of ``reach``."""

    def __init__(self, facet: Facet, reach: Collection[str]) -> None:
        self.facet = facet
        self.reach = tuple(question_id for question_id in facet.questions if question_id in reach)
        self._parting = self._parting_questions()

    def _parting_questions(self) -> dict[tuple[int, int], frozenset[str]]:
        """For each pair of look-alikes the questions in reach that part them."""
        pairs = [(a, b) for a, others in enumerate(self.facet.alike) for b in others]
        return {(a, b): frozenset(q for q in self.reach if difference(self.facet, q, a, b) >= self.facet.settings.parting)
                for a, b in pairs}

    def open(self, question_id: str, evidence: Evidence) -> bool:
        """Whether a question may still be asked: not answered yet, itself or by another answer."""
        return question_id not in evidence and not self.facet.needless(question_id, evidence)

    def together(self, leader: int, evidence: Evidence) -> tuple[int, ...]:
        """The leader and those of its look-alikes that no question still open from here parts from it."""
        alike = [b for b in sorted(self.facet.alike[leader]) if not self._may_part(leader, b, evidence)]
        return (leader, *alike)

    def _may_part(self, leader: int, other: int, evidence: Evidence) -> bool:
        return any(self.open(question_id, evidence) for question_id in self._parting[leader, other])

    def settled(self, shares: Sequence[float], evidence: Evidence) -> tuple[int, ...]:
        """The outcome, or the set of look-alikes, that may be named firmly; empty while there is none."""
        needs = self.facet.settings
        leader = leader_of(shares)
        if shares[leader] + sum(shares[other] for other in self.facet.alike[leader]) < needs.settled:
            return ()
        for group in ((leader,), self.together(leader, evidence)):
            if sum(shares[index] for index in group) >= needs.settled:
                return group if self._confirmed(group, shares, evidence) else ()
        return ()

    def _confirmed(self, group: tuple[int, ...], shares: Sequence[float], evidence: Evidence) -> bool:
        """Whether enough witnesses agree, and no look-alike with a chance worth a look waits for the question that parts it."""
        needs, leader = self.facet.settings, group[0]
        near = [b for b in self.facet.alike[leader] if b not in group and shares[b] > needs.alike_left * shares[leader]]
        return len(self.facet.witnesses(evidence, leader)) >= needs.witnesses and not any(self._may_part(leader, b, evidence) for b in near)

    def stand(self, evidence: Evidence) -> Stand:
        """Whether to stop after these answers, and why."""
        stand = self.judged(evidence)
        return stand if stand.finished else replace(stand, why=self._why_stop(evidence, self.facet.weigh(evidence), stand.shares))

    def judged(self, evidence: Evidence) -> Stand:
        """The same without a look at what could still be asked: settled, look-alikes, or open."""
        shares = tuple(self.facet.posterior(self.facet.weigh(evidence)))
        leader, firm = leader_of(shares), self.settled(shares, evidence)
        if firm:
            return Stand(shares, leader, firm, SETTLED if len(firm) == 1 else ALIKE)
        beside = tuple(b for b in self.together(leader, evidence)[1:] if shares[b] >= self.facet.settings.possible)
        return Stand(shares, leader, (leader, *beside), OPEN)

    def _why_stop(self, evidence: Evidence, state: State, shares: Sequence[float]) -> str:
        needs, told = self.facet.settings, sum(bool(answers) for answers in evidence.values())
        if told >= needs.most_answers or len(evidence) >= needs.most_questions:
            return ENOUGH
        return OPEN if self.useful(evidence, state, shares) else NO_MORE

    def next_question(self, evidence: Evidence) -> str | None:
        """The open question whose answer is likeliest to end the questioning, for its effort; None when none helps."""
        state = self.facet.weigh(evidence)
        useful = self.useful(evidence, state, self.facet.posterior(state))
        return max(useful, key=lambda one: exactly(self.worth(one))).question_id if useful else None

    def useful(self, evidence: Evidence, state: State, shares: Sequence[float]) -> list[Candidate]:
        """The open questions that would move the leading share, or could bring the witness that is still wanted."""
        least = self.facet.settings.worth_asking
        candidates = [self.candidate(q, evidence, state, shares) for q in self.reach
                      if self.open(q, evidence)]
        return [c for c in candidates if c.movement >= least or c.ends >= least]

    def candidate(self, question_id: str, evidence: Evidence, state: State, shares: Sequence[float]) -> Candidate:
        """What can be expected of a question: how likely its answer ends the questioning, how far it moves the leading share, and how much nearer it brings."""
        leader, top = leader_of(shares), max(shares)
        ends = movement = nearer = 0.0
        for answer, after in self.facet.afterwards(state, question_id):
            chance = dot(shares, self.facet.shares[question_id][answer])
            movement += chance * max(abs(after[leader] - top), abs(max(after) - top))
            nearer += chance * dot(after, after)
            if self.settled(after, {**evidence, question_id: (answer,)}):
                ends += chance
        effort = float(self.facet.questions[question_id].effort)
        return Candidate(question_id, ends, movement, max(nearer - dot(shares, shares), 0.0), self.facet.mentioned[question_id], effort, self._unsure(question_id, evidence))

    def _unsure(self, question_id: str, evidence: Evidence) -> int:
        """How many questions about the same thing could not be told."""
        group = self.facet.questions[question_id].group
        return sum(not answers and self.facet.questions[asked].group == group for asked, answers in evidence.items())

    def worth(self, candidate: Candidate) -> float:
        """The chance of ending the questioning, and of coming nearer, times the chance of an answer, for its effort."""
        needs = self.facet.settings
        # whoever did not hear the hour can hardly tell the tune; the root, because whole effort lets idle glances go before the look that tells
        answered = candidate.mentioned * needs.unsure_again ** candidate.unsure
        return (candidate.ends + needs.nearness * candidate.nearer) * answered / sqrt(candidate.effort)


def difference(facet: Facet, question_id: str, a: int, b: int) -> float:
    """How differently two outcomes answer a question: half the sum of the differences of their shares, 0 to 1."""
    return 0.5 * sum(abs(row[a] - row[b]) for row in facet.shares[question_id].values())


def dot(left: Sequence[float], right: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(left, right))
