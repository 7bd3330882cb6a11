"""Rules about what the key weighs and shows: words that contradict one another, answers without a picture, dead ends, outcomes that nothing tells apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields
from itertools import combinations

from build_tools.key import Key
from build_tools.key_plan import difference
from build_tools.key_shares import WORDS, Settings, numbers
from build_tools.key_weigh import USUAL, leader_of
from build_tools.library import Library
from build_tools.loaded import DataPath
from build_tools.model import Outcome, Question
from build_tools.problem import Problem

TABLES = ("facets", "viewpoints", "frequency-words", "commonness", "key-settings")


def check(library: Library) -> Iterator[Problem]:
    """Words first; what is weighed only when all tables of the key are there and every word is one of theirs."""
    yield from words_that_contradict(library)
    yield from undrawn_answers(library)
    if not all(library.table(table) for table in TABLES):
        return
    yield from missing_settings(library)
    yield from unused_questions(library)
    if _weighable(library):
        for row in library.table("facets"):
            yield from facet_problems(library, row.name)


def words_that_contradict(library: Library) -> Iterator[Problem]:
    """The answers of a question exclude one another, so at most one is nearly always given, or usual."""
    for outcome in _outcomes(library):
        for question, words in outcome.told_by.items():
            yield from _contradictions(library, outcome.ref, ("told_by", question), words)
    for question in library.of_kind("question"):
        assert isinstance(question, Question)
        yield from _contradictions(library, question.ref, ("unless_said",), question.unless_said)


def _contradictions(library: Library, ref: str, path: DataPath, words: Mapping[str, str]) -> Iterator[Problem]:
    strong = [answer for answer, word in words.items() if word in ("always", "usually")]
    if len(strong) > 1:
        first, second = strong[:2]
        what = f"{first} is {words[first]} and {second} is {words[second]}, yet only one of them can be answered"
        yield Problem("KB070", library.place(ref, *path, second), f"{path[-1]}.{second}", what, "lower one of the two words")


def undrawn_answers(library: Library) -> Iterator[Problem]:
    """What is told by looking has a picture for each answer that shows something; a draft may still have none at all."""
    for question in library.of_kind("question"):
        assert isinstance(question, Question)
        pictured = [answer.id for answer in question.answers if answer.picture]
        if question.status == "retired" or not pictured and (question.answered_by or question.status == "draft"):
            continue
        for index, answer in enumerate(question.answers):
            if not answer.picture and answer.id not in question.unseen:
                what, hint = "this is told by looking and has no picture", "draw it under `picture:`, or name it under `unseen:` if it shows nothing; what isn't told by looking says `answered_by:`"
                yield Problem("KB077", library.place(question.ref, "answers", index), f"answers.{answer.id}", what, hint)


def missing_settings(library: Library) -> Iterator[Problem]:
    """Every number that the key works with has its row, and so has every word that it says."""
    rows, place = library.table("key-settings"), library.place("constant:key-settings", "rows")
    valued = {row.name for row in rows if row.value}
    for name in (field.name.replace("_", "-") for field in fields(Settings)):
        if name not in valued:
            yield Problem("KB075", place, "rows", f"there is no row called {name} that has a value", f"add a row `{name}` with its value")
    for name in WORDS:
        if name not in {row.name for row in rows}:
            yield Problem("KB075", place, "rows", f"there is no row called {name}", f"add a row `{name}` with what is said")


def unused_questions(library: Library) -> Iterator[Problem]:
    """A question that no outcome is told by is never asked."""
    used = {question for outcome in _outcomes(library) for question in outcome.told_by}
    for question in library.of_kind("question"):
        if question.ref not in used and question.status != "retired":
            yield Problem("KB073", library.place(question.ref), "this question", "no train type, add-on, feature or symptom is told by it", f"name {question.ref} under `told_by:` of one, or retire it")


def facet_problems(library: Library, facet: str) -> Iterator[Problem]:
    """Whether the outcomes of one facet can be reached, and told from one another."""
    if len(library.outcomes(facet)) < 2:
        names = [row.name for row in library.table("facets")]
        yield Problem("KB076", library.place("constant:facets", "rows", names.index(facet)), facet, "it has fewer than two outcomes, so there is nothing to tell apart", "write a second outcome, or take the row away")
        return
    key = Key(library, facet)
    for index, outcome in enumerate(key.facet.outcomes):
        first = _first(key, index)
        if first != index and first not in key.facet.alike[index] and _told_apart(key, index, first):
            what = f"with its own most usual answers it does not come out first, but {key.facet.outcomes[first].ref}"
            yield Problem("KB074", library.place(outcome.ref, "told_by"), "told_by", what, "say by which question it differs, or name the other as a look-alike")
    for a, b in combinations(range(len(key.facet.outcomes)), 2):
        if b not in key.facet.alike[a] and not _told_apart(key, a, b):
            one, other = key.facet.outcomes[a].ref, key.facet.outcomes[b].ref
            yield Problem("KB072", library.place(one), "told_by", f"no question tells it from {other}", f"say how they differ, or name {other} under `look_alikes:`")


def _told_apart(key: Key, a: int, b: int) -> bool:
    one, other = (key.facet.outcomes[index].told_by for index in (a, b))  # they answer alike whatever neither speaks of
    asked = (id for id, question in key.questions.items() if question.ref in one or question.ref in other)
    return any(difference(key.facet, id, a, b) >= key.facet.settings.parting for id in asked)


def _first(key: Key, index: int) -> int:
    """The outcome that comes out first when an outcome's own most usual answers are given."""
    evidence = key.evidence(_usual_answers(key, index))
    return leader_of(key.facet.posterior(key.facet.weigh(evidence)))


def _usual_answers(key: Key, index: int) -> dict[str, str]:
    """The most usual answer of an outcome to every question that it speaks of."""
    asked = [q for q in key.questions.values() if q.ref in key.facet.outcomes[index].told_by]
    return {q.id: max(key.facet.shares[q.id], key=lambda answer: key.facet.shares[q.id][answer][index]) for q in asked}


def _weighable(library: Library) -> bool:
    """Whether every word and setting is known; other rules report those that are not."""
    words, common = numbers(library, "frequency-words"), numbers(library, "commonness")
    told = [words_of for outcome in _outcomes(library) for words_of in outcome.told_by.values()]
    told += [question.unless_said for question in library.of_kind("question") if isinstance(question, Question)]
    known = all(word in words for words_of in told for word in words_of.values()) and USUAL in words
    known = known and all((question.mentioned or USUAL) in words for question in library.of_kind("question"))
    return known and all((outcome.commonness or "uncommon") in common for outcome in _outcomes(library)) and not any(missing_settings(library))


def _outcomes(library: Library) -> list[Outcome]:
    found = [entry for kind in ("train", "addon", "feature", "symptom") for entry in library.of_kind(kind)]
    return [entry for entry in found if isinstance(entry, Outcome) and entry.status != "retired"]
