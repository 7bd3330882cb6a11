"""What the key in the page needs of the knowledge base, as one script."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from build_tools.key import LESS_ELSEWHERE, LOOK_AGAIN, MORE_ELSEWHERE, NOT_APART, NOT_APART_FROM, ONE_OF, STOPPED, Key
from build_tools.key_answers import facets
from build_tools.key_numbers_export import numbers_script
from build_tools.key_reach import hidden_from
from build_tools.key_shares import Facts, numbers, read_settings
from build_tools.key_weigh import USUAL
from build_tools.model import Outcome, Question
from build_tools.schema import FOLDERS

Data = dict[str, Any]
SENTENCES = {"notApart": NOT_APART, "notApartFrom": NOT_APART_FROM, "veryLikelyOneOf": ONE_OF, "lookAgain": LOOK_AGAIN,
             "lessElsewhere": LESS_ELSEWHERE, "moreElsewhere": MORE_ELSEWHERE}
MOST_COUNTS = 6
_LINK = re.compile(r"\[\[([^\]|]+)(?:\|([^\]]+))?\]\]")


def generated_scripts(library: Any) -> dict[str, str]:
    """The scripts with the key's data and with the figures of the standard counts, by their paths in the site."""
    text = json.dumps(key_data(library), ensure_ascii=False, separators=(",", ":"))
    return {"js/key-data.js": f"var ClockRef=this.ClockRef||{{}};this.ClockRef=ClockRef;ClockRef.keyData={text};\n", **numbers_script(library)}


def key_data(facts: Facts) -> Data:
    """Settings, words, viewpoints, facets, questions and outcomes, in the order in which the key takes them."""
    words = list(numbers(facts, "frequency-words"))
    keys = [Key(facts, row.name) for row in facets(facts)]
    used = {question_id for key in keys for question_id in key.questions}
    outcomes = {key.facet.name: [_outcome(one, key.questions, words, facts) for one in key.facet.outcomes] for key in keys}
    return {
        "settings": {_camel(name): value for name, value in asdict(read_settings(facts)).items()},
        "says": {_camel(row.name): row.says for row in facts.table("key-settings")} | SENTENCES,
        "stopped": STOPPED,
        "words": [{"name": row.name, "says": row.says, "share": float(row.value)} for row in facts.table("frequency-words")],
        "common": numbers(facts, "commonness"),
        "viewpoints": [{"id": row.name, "says": row.says, "sees": list(row.cells["sees"]),
                        "inside": bool(row.cells.get("inside"))} for row in facts.table("viewpoints")],
        "facets": [{"id": row.name, "asks": row.says, "label": row.cells["label"]} for row in facets(facts)],
        "questions": {q.id: _question(q, words, facts) for q in facts.of_kind("question") if q.id in used},
        "outcomes": outcomes,
        "hidden": {key.facet.name: {row.name: list(hidden_from(key, row.name)) for row in facts.table("viewpoints") if key.reach(row.name)}
                   for key in keys},
        "entries": _entries(facts, [one for key in keys for one in key.facet.outcomes]),
        "cautions": _cautions(facts, [one for key in keys for one in (*key.facet.outcomes, *key.questions.values())]),
    }


def _question(question: Question, words: Sequence[str], facts: Facts) -> Data:
    return {"asks": question.asks, "how": plain(question.how, facts), "from": list(question.viewpoints),
            "effort": question.effort, "mentioned": numbers(facts, "frequency-words")[question.mentioned or USUAL],
            "needless": {ref.partition(":")[2]: list(answers) for ref, answers in question.needless_after.items()}, "group": question.group, "leave": question.ask_leave,
            "unless": _code(question.unless_said, question, words) if question.unless_said else "",
            "answers": [[answer.id, answer.says] for answer in question.answers], "cautions": list(question.cautions)}


def _outcome(outcome: Outcome, questions: Mapping[str, Question], words: Sequence[str], facts: Facts) -> Data:
    told = {q.id: _code(outcome.told_by[q.ref], q, words) for q in questions.values() if q.ref in outcome.told_by}
    return {"ref": outcome.ref, "name": outcome.name, "url": address(outcome.ref), "what": plain(outcome.what, facts),
            "common": outcome.commonness or "uncommon", "told": told,
            "alike": [{"with": alike.with_, "why": plain(alike.why, facts)} for alike in outcome.look_alikes],
            "check": [plain(text, facts) for text in outcome.check], "traps": [plain(text, facts) for text in outcome.traps],
            "cautions": list(outcome.cautions), "sums": list(outcome.calculations), "counts": counts_of(outcome, facts)}


def counts_of(outcome: Outcome, facts: Facts) -> list[str]:
    """The standard counts that an outcome names, and those that name it."""
    named = [count.ref for count in facts.of_kind("count") if outcome.ref in count.used_in and count.ref not in outcome.counts]
    return [*outcome.counts, *named][:MOST_COUNTS]


def _entries(facts: Facts, outcomes: Sequence[Outcome]) -> Data:
    """Name and address of every calculation and count that an outcome leads to."""
    refs = sorted({ref for outcome in outcomes for ref in (*outcome.calculations, *counts_of(outcome, facts))})
    found = [(ref, facts.get(ref)) for ref in refs]
    return {ref: {"name": entry.name, "url": address(ref)} for ref, entry in found if entry}


def _code(told: Mapping[str, str], question: Question, words: Sequence[str]) -> str:
    """One sign an answer: the number of its word, or a dot."""
    return "".join(str(words.index(told[answer.id])) if answer.id in told else "." for answer in question.answers)


def _cautions(facts: Facts, users: Sequence[Outcome | Question]) -> Data:
    named = sorted({ref for user in users for ref in user.cautions})
    found = [(ref, facts.get(ref)) for ref in named]
    return {ref: {"name": caution.name, "text": plain(caution.text, facts), "url": address(ref)} for ref, caution in found if caution}


def address(ref: str) -> str:
    """The address of an entry's page below the root of the site."""
    kind, _, entry_id = ref.partition(":")
    return f"{FOLDERS[kind]}/{entry_id}/"


def plain(prose: str, facts: Facts) -> str:
    """Prose in one line, its links as the words that they show."""
    def words(link: re.Match[str]) -> str:
        entry = facts.get(link[1])
        return link[2] or (entry.name if entry else link[1])
    return " ".join(_LINK.sub(words, prose).split())


def _camel(name: str) -> str:
    first, *rest = name.replace("-", "_").split("_")
    return first + "".join(part.capitalize() for part in rest)
