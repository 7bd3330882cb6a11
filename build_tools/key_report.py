"""The findings of the key, and what it can be asked, as plain data and as text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.key import Finding, Key, Ranked, Reason
from build_tools.key_answers import CANT_TELL, answer_spellings, facets
from build_tools.key_export import counts_of, plain
from build_tools.key_reach import hidden_from
from build_tools.key_shares import Facts
from build_tools.model import Outcome, Question, Row

Data = dict[str, Any]


def as_data(key: Key, finding: Finding, answers: Mapping[str, str], viewpoint: str, facts: Facts) -> Data:
    """A finding as plain data, ready for JSON; ``share`` is between 0 and 1."""
    leader: Outcome = key.outcome(finding.ranked[0].ref)
    least = key.facet.settings.not_ruled_out
    return {
        "facet": key.facet.name, "viewpoint": viewpoint or None, "answers": dict(answers),
        "not_used": [question for question in answers if question not in key.questions],
        "verdict": finding.verdict, "finished": finding.finished, "why": finding.why, "nothing_fits": finding.nothing_fits,
        "together": list(finding.together),
        "ranked": [_ranked(one) for one in finding.ranked],
        "not_ruled_out": [one.ref for one in finding.ranked if one.share > least],
        "ruled_out": [one.ref for one in finding.ranked if one.share <= least],
        "look_alikes": [{"with": alike.with_, "why": alike.why.strip()} for alike in leader.look_alikes],
        "check_again": [_reason(reason) for reason in finding.doubtful],
        "expect_inside": plain(leader.what, facts),
        "before_paying": [plain(text, facts) for text in leader.check],
        "calculations": list(leader.calculations), "counts": counts_of(leader, facts),
        "cautions": list(leader.cautions),
        "next_question": question_data(key.questions[finding.next_question]) if finding.next_question else None,
    }


def _ranked(one: Ranked) -> Data:
    return {"id": one.id, "ref": one.ref, "name": one.name, "share": one.share, "words": one.words,
            "for": [_reason(reason) for reason in one.reasons_for],
            "against": [_reason(reason) for reason in one.reasons_against]}


def _reason(reason: Reason) -> Data:
    return {"question": reason.question, "answer": reason.answer, "word": reason.word, "text": reason.text}


def question_data(question: Question) -> Data:
    """A question with its answers and how each may be typed."""
    says = {answer.id: answer.says for answer in question.answers} | {CANT_TELL: "can't tell"}
    return {"id": question.id, "asks": question.asks, "how": question.how.strip(), "viewpoints": list(question.viewpoints),
            "effort": question.effort, "group": question.group, "ask_leave": question.ask_leave,
            "answers": [{"id": answer, "says": says[answer], "spellings": list(spellings)}
                        for answer, spellings in answer_spellings(question).items()]}


def as_text(data: Data) -> str:
    """A finding for a terminal, the likely outcomes with their reasons."""
    return "\n".join(_lines(data))


def _lines(data: Data) -> Iterator[str]:
    yield data["verdict"]
    shown = [one for one in data["ranked"] if one["ref"] in data["not_ruled_out"]]
    for one in shown[:5]:
        yield f"\n{one['words']}: {one['name']} ({one['ref']})"
        yield from (f"  for      {reason['text']}" for reason in one["for"])
        yield from (f"  against  {reason['text']}" for reason in one["against"])
    if shown[5:]:
        yield "\nnot ruled out: " + "; ".join(one["name"] for one in shown[5:])
    if data["finished"] and not data["nothing_fits"]:
        yield from _ending(data)
    for question in data["not_used"]:
        yield f"\n{question} says nothing about {data['facet']}."
    if data["next_question"]:
        yield from _asked("Next" if not data["finished"] else "One may go on", data["next_question"])


def _ending(data: Data) -> Iterator[str]:
    """What follows from the leading outcome."""
    yield f"\nWhat to expect inside: {data['expect_inside']}"
    for heading, lines in (("Before paying", data["before_paying"]), ("Cautions", data["cautions"]), ("Sums that fit", data["calculations"]),
                           ("Standard counts", data["counts"])):
        yield from [f"{heading}:", *(f"  {line}" for line in lines)] if lines else []


def _asked(heading: str, question: Data) -> Iterator[str]:
    leave = " (ask the owner first)" if question["ask_leave"] else ""
    yield f"\n{heading}: {question['asks']}{leave}"
    yield f"  {question['how']}"
    yield from (f"  {question['id']}={answer['id']:<16} {answer['says']}" for answer in question["answers"])


def catalogue(facts: Facts, only: str = "") -> Data:
    """Everything that can be typed: facets with their outcomes and questions, viewpoints, questions with answers."""
    keys = [Key(facts, row.name) for row in facets(facts) if only in ("", row.name)]
    used = {question_id for key in keys for question_id in key.questions}
    rows = {row.name: row for row in facts.table("facets")}
    return {
        "facets": [_facet(key, rows[key.facet.name], facts) for key in keys],
        "viewpoints": [{"id": row.name, "says": row.says, "sees_also": list(row.cells["sees"])} for row in facts.table("viewpoints")],
        "questions": [question_data(question) for question in facts.of_kind("question") if question.id in used],
        "measured": [{"id": row.name, "says": row.says, "unit": row.unit, "how": row.cells["how"]} for row in facts.table("measured")],
    }


def _facet(key: Key, row: Row, facts: Facts) -> Data:
    return {"id": row.name, "asks": row.says,
            "outcomes": [{"id": outcome.id, "ref": outcome.ref, "name": outcome.name} for outcome in key.facet.outcomes],
            "questions": list(key.questions),
            "questions_from": {place.name: list(key.reach(place.name)) for place in facts.table("viewpoints")},
            "not_told_from": {place.name: [key.facet.outcomes[index].ref for index in hidden_from(key, place.name)]
                              for place in facts.table("viewpoints") if key.reach(place.name)}}


def catalogue_text(listed: Data) -> str:
    """The catalogue for a terminal."""
    lines = ["Facets"] + [f"  {one['id']:<18} {one['asks']}" for one in listed["facets"]]
    lines += ["", "Viewpoints"] + [f"  {one['id']:<18} {one['says']}" for one in listed["viewpoints"]]
    lines += ["", "Questions (each may be answered with cant-tell)"]
    for question in listed["questions"]:
        lines += [f"  {question['id']}: {question['asks']}"]
        lines += [f"      {answer['id']:<16} {answer['says']}" for answer in question["answers"][:-1]]
    lines += ["", "What can be counted or measured (--measured NAME=NUMBER)"]
    lines += [f"  {row['id']:<18} {row['says']}{', ' + row['unit'] if row['unit'] else ''}: {row['how']}" for row in listed["measured"]]
    return "\n".join(lines)
