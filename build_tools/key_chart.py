"""The key as one pruned tree for paper and for pages without script: about as many boxes as fit a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import sqrt

from build_tools.key import Key
from build_tools.key_plan import ALIKE, OPEN, SETTLED, Plan, Stand, dot
from build_tools.key_weigh import Evidence, exactly

NAMED_IN_A_BOX = 3


@dataclass(frozen=True)
class Box:
    """One box, numbered from 1 in reading order; it asks a question, or names outcomes.

    ``by`` are the answers of the box ``above`` that lead here; none marks the answers that the chart leaves out.
    ``outcomes`` are indices of the facet's outcomes, ``rarer`` those that are met here and nowhere else in the chart.
    """

    number: int
    above: int
    depth: int
    by: tuple[str, ...]
    chance: float
    question: str
    words: str
    outcomes: tuple[int, ...]
    rarer: tuple[int, ...]


@dataclass
class _Node:
    evidence: Evidence
    chance: float
    stand: Stand
    by: tuple[str, ...]
    left_out: bool = False
    question: str = ""
    children: list[_Node] = field(default_factory=list)

    @property
    def doubt(self) -> float:
        """How many visitors come here undecided."""
        return self.chance * (1.0 - max(self.stand.shares))


def chart(key: Key, viewpoint: str) -> tuple[Box, ...]:
    """The boxes of the chart for a viewpoint, in reading order; empty when nothing can be asked from there."""
    plan = key.plan(viewpoint)
    root = _Node({}, 1.0, plan.judged({}), ())
    _grow(root, plan)
    return tuple(_numbered(root, key)) if root.children else ()


def _grow(root: _Node, plan: Plan) -> None:
    """Ask on where most visitors are still in doubt, until the sheet is full."""
    needs = plan.facet.settings
    open_nodes, boxes = [root], 1
    while open_nodes and boxes < needs.boxes:
        node = max(open_nodes, key=lambda one: exactly(one.doubt))
        open_nodes.remove(node)
        node.question, node.children = _best_question(node, plan)
        boxes += len(node.children)
        open_nodes += [child for child in node.children if child.stand.why == OPEN and not child.left_out]


def _best_question(node: _Node, plan: Plan) -> tuple[str, list[_Node]]:
    """The question that brings visitors nearest to one outcome for its effort, and what its answers lead to."""
    state = plan.facet.weigh(node.evidence)
    asked = [one.question_id for one in plan.useful(node.evidence, state, node.stand.shares)]
    ways = [(question, _children(node, question, plan)) for question in asked]
    ways = [(question, children) for question, children in ways if sum(not child.left_out for child in children) > 1]
    return max(ways, key=lambda way: exactly(_worth(node, *way, plan)), default=("", []))


def _worth(node: _Node, question: str, children: list[_Node], plan: Plan) -> float:
    gain = sum(child.chance * max(child.stand.shares) for child in children) / node.chance - max(node.stand.shares)
    return gain / sqrt(plan.facet.questions[question].effort)


def _children(node: _Node, question: str, plan: Plan) -> list[_Node]:
    """A child for each group of answers that lead to the same outcome, and one for those too rare for a branch."""
    shares = plan.facet.shares[question]
    chances = {answer: node.chance * dot(node.stand.shares, shares[answer]) for answer in shares}
    groups: dict[tuple[int, str], list[str]] = {}
    for answer in (answer for answer, chance in chances.items() if chance >= plan.facet.settings.rarer):
        stand = plan.judged({**node.evidence, question: (answer,)})
        groups.setdefault((stand.leader, stand.why), []).append(answer)
    children = [_child(node, question, tuple(group), chances, plan) for group in groups.values()]
    rare = tuple(answer for answer, chance in chances.items() if chance < plan.facet.settings.rarer)
    return [*children, _child(node, question, rare, chances, plan, left_out=True)] if rare else children


def _child(node: _Node, question: str, answers: tuple[str, ...], chances: dict[str, float], plan: Plan, left_out: bool = False) -> _Node:
    evidence = {**node.evidence, question: answers}
    return _Node(evidence, sum(chances[answer] for answer in answers), plan.judged(evidence), answers, left_out)


def _numbered(root: _Node, key: Key) -> Iterator[Box]:
    nodes = list(_in_reading_order(root, 0, 0))
    ends = [node for node, _, _ in nodes if not node.children]
    named = {id(node): _named(node, key) for node in ends}
    strays = _strays(ends, named, len(key.facet.outcomes))
    places = {id(node): number for number, (node, _, _) in enumerate(nodes, 1)}
    for number, (node, above, depth) in enumerate(nodes, 1):
        yield Box(number, places.get(above, 0), depth, () if node.left_out else node.by, node.chance, node.question,
                  key.words(node.stand, node.stand.leader), named.get(id(node), ()), strays.get(id(node), ()))


def _in_reading_order(node: _Node, above: int, depth: int) -> Iterator[tuple[_Node, int, int]]:
    yield node, above, depth
    for child in node.children:
        yield from _in_reading_order(child, id(node), depth + 1)


def _named(node: _Node, key: Key) -> tuple[int, ...]:
    """The outcomes that an end names: the firm ones, or those that are possible there."""
    needs, shares = key.facet.settings, node.stand.shares
    if node.stand.why in (SETTLED, ALIKE):
        return node.stand.together
    order = sorted(range(len(shares)), key=lambda one: -exactly(shares[one]))
    enough = next(count for count in range(1, len(order) + 1) if sum(shares[one] for one in order[:count]) >= needs.settled)
    return tuple(one for one in order[:min(enough, NAMED_IN_A_BOX)] if shares[one] >= needs.possible)


def _strays(ends: list[_Node], named: dict[int, tuple[int, ...]], count: int) -> dict[int, tuple[int, ...]]:
    """The outcomes that no end names, each put where it has the greatest share."""
    known = {one for outcomes in named.values() for one in outcomes}
    found: dict[int, list[int]] = {}
    for outcome in (one for one in range(count) if one not in known):
        home = max(ends, key=lambda node: node.stand.shares[outcome])
        found.setdefault(id(home), []).append(outcome)
    return {home: tuple(outcomes) for home, outcomes in found.items()}
