"""Reading what a person typed: facets, viewpoints, questions and answers, with a suggestion when a word is close."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from build_tools.key_shares import Facts
from build_tools.model import Question, Row
from build_tools.problem import did_you_mean

CANT_TELL = "cant-tell"
CANT_TELL_SPELLINGS = (CANT_TELL, "can't tell", "?")
NUMBER_WORDS = {"none": "0", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6"}


class Unclear(Exception):
    """Something typed that cannot be understood; the text is one line for the person who typed it."""


def facets(facts: Facts) -> tuple[Row, ...]:
    """The facets that have outcomes to tell apart, in the order of their table."""
    return tuple(row for row in facts.table("facets") if facts.outcomes(row.name))


def read_facet(facts: Facts, typed: str) -> str:
    """The name of a facet."""
    return _row(typed, facets(facts), "facet")


def read_viewpoint(facts: Facts, typed: str) -> str:
    """The name of a viewpoint; nothing typed stands for all of them together."""
    return _row(typed, facts.table("viewpoints"), "viewpoint") if typed else ""


def _row(typed: str, rows: Sequence[Row], what: str) -> str:
    names = [row.name for row in rows]
    if typed not in names:
        raise Unclear(f"There is no {what} {typed!r}: {did_you_mean(typed, names, 'they are ' + ', '.join(names))}")
    return typed


def read_answers(facts: Facts, typed: Iterable[str]) -> dict[str, str]:
    """Question id → answer id from words such as ``winding-holes=two``."""
    questions = {question.id: question for question in facts.of_kind("question")}
    answers: dict[str, str] = {}
    for words in typed:
        question, answer = _read_answer(questions, words)
        if answers.get(question.id, answer) != answer:
            raise Unclear(f"{question.id} is answered twice, with {answers[question.id]} and with {answer}: keep one of them.")
        answers[question.id] = answer
    return answers


def _read_answer(questions: dict[str, Question], words: str) -> tuple[Question, str]:
    name, sign, said = words.partition("=")
    if not sign:
        raise Unclear(f"{words!r} is no answer: write question=answer, such as winding-holes=two (key --list names them).")
    question = questions.get(_as_id(name).removeprefix("question:"))
    if question is None:
        raise Unclear(f"There is no question {name.strip()!r}: {_near_questions(_as_id(name), questions)}")
    known = {spelling: answer for answer, spellings in answer_spellings(question).items() for spelling in spellings}
    plain = " ".join(said.lower().replace("’", "'").strip(" .").split())
    found = known.get(plain, known.get(_as_id(plain)))
    if found is None:
        words = "; ".join([*(f"{answer.id} ({answer.says})" for answer in question.answers), CANT_TELL])
        raise Unclear(f"{question.id} has no answer {said.strip()!r}: {did_you_mean(plain, known, 'the answers are ' + words)}")
    return question, found


def _as_id(typed: str) -> str:
    """What was typed in the shape of an id: small letters, hyphens for spaces."""
    return "-".join(typed.lower().replace("_", " ").replace("-", " ").split())


def _near_questions(typed: str, questions: dict[str, Question]) -> str:
    """The question that was meant, or those that share a word with it."""
    shared = [name for name in questions if set(typed.split("-")) & {*name.split("-"), *(word.rstrip("s") for word in name.split("-"))}]
    return did_you_mean(typed, questions, f"those nearest are {', '.join(shared)}" if shared else "key --list names them")


def answer_spellings(question: Question) -> dict[str, tuple[str, ...]]:
    """Each answer of a question, ``cant-tell`` the last, with the ways in which it may be typed (small letters)."""
    spellings = {answer.id: _spellings(answer.id, answer.says) for answer in question.answers}
    return {**spellings, CANT_TELL: CANT_TELL_SPELLINGS}


def _spellings(answer: str, says: str) -> tuple[str, ...]:
    first, *more = answer.split("-")
    number = NUMBER_WORDS.get(first, "")
    open_ended = more == ["plus"] or says.endswith("or more")
    plural = [f"{number}+", f"{first} or more", f"{number} or more"] if number and open_ended else []
    numbers = plural + ([number] if number and not more else [])
    nothing = ["no", "nothing"] if answer == "none" else []
    return tuple(dict.fromkeys((answer, says.lower(), *numbers, *nothing)))
