"""Sayings, measurements, lessons and sheets: what their pages hold, and that questions and answers come from the entries."""
from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import ephem
import pytest

from build_tools.library import Library, read_library
from build_tools.model import Lesson
from build_tools.model_parts import Ask
from build_tools.render.doing import sheet
from build_tools.render.kinds import page_path
from build_tools.render.lesson import answers_path
from build_tools.render.lesson_questions import groups
from build_tools.render.prose import escape
from build_tools.render.view import View

MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()


def numbers(page: str) -> list[int]:
    """The numbers of all items of all numbered lists, as a browser counts them."""
    lists = re.findall(r'<ol class="\w+" start="(\d+)"[^>]*>(.*?)</ol>', page, re.DOTALL)
    return [int(start) + place for start, items in lists for place in range(items.count("<li "))]


@pytest.mark.parametrize("id", [path.stem for path in sorted((Path(__file__).parent.parent / "kb" / "lessons").glob("*.yaml"))])
def test_every_question_has_the_answer_of_its_number(id: str, made: dict[str, str]) -> None:
    asked = numbers(made[f"lessons/{id}.md"].partition("## Questions")[2])
    answered = numbers(made[f"lessons/answers/{id}.md"])
    assert asked == answered == list(range(1, len(asked) + 1)) and len(asked) >= 10


def test_no_question_names_its_word(library: Library) -> None:
    given_away = []
    for lesson in library.of_kind("lesson"):
        view = View(library, page_path(lesson.ref))
        for ask, group in zip(lesson.asks, groups(lesson, view), strict=True):
            if ask.kind == "word":
                terms = [library[ref] for ref in ask.of]
                given_away += [term.ref for term, item in zip(terms, group.items, strict=True) if re.search(rf"\b{term.word}\b", item.asks, re.IGNORECASE)]
    assert given_away == []


def test_a_corrected_entry_corrects_question_and_answer(tmp_path: Path, root: Path) -> None:
    rules = root / "tests" / "rules" / "good"
    for file in (rules / "kb").rglob("*.yaml"):
        target = tmp_path / file.relative_to(rules)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(file.read_text(encoding="utf-8").replace("Water gets below the varnish", "Soap is worse"), encoding="utf-8")
    library, problems = read_library(tmp_path)
    assert problems == []
    assert "Soap is worse" in answers_of(library, "wheels") and "Soap is worse" not in answers_of(read_library(rules)[0], "wheels")


def answers_of(library: Library, id: str) -> str:
    lesson = library[f"lesson:{id}"]
    return "\n".join(item.answer for group in groups(lesson, View(library, answers_path(lesson))) for item in group.items)


def asked(library: Library, kind: str, *of: str, by: tuple[str, ...] = ()) -> tuple[str, str]:
    """The first question of one kind, and its answer."""
    lesson = dataclasses.replace(next(iter(library.of_kind("lesson"))), asks=(Ask(kind=kind, of=of, by=by),))
    assert isinstance(lesson, Lesson)
    item = next(groups(lesson, View(library, page_path(lesson.ref)))).items[0]
    return item.asks, item.answer


def test_the_train_of_a_seconds_pendulum_gives_3600_beats(library: Library) -> None:
    """64 and 60 on pinions of eight with thirty teeth (Beckett 1903, ch. on trains): 3600 beats an hour."""
    question, answer = asked(library, "count", "count:seconds-64-60")
    assert "| 64 |" in question and re.search(r"\b3,?600\b", answer)


def test_the_westminster_quarters_have_forty_notes_in_an_hour(library: Library) -> None:
    """One, two, three and four phrases of four notes."""
    assert asked(library, "quarters", "melody:westminster")[1].startswith("first 4, second 8, third 12, hour 16; 40 in an hour")


def test_signs_are_answered_in_the_words_of_the_key(library: Library) -> None:
    question, answer = asked(library, "tells", "train:going-strike-chime", by=("question:winding-holes",))
    assert "three" in answer and answer.startswith("*usually*") and question.startswith("going, strike")


def test_a_caution_of_a_step_stands_in_front_of_it(library: Library, made: dict[str, str]) -> None:
    late = []
    for entry in (*library.of_kind("measure"), *library.of_kind("sheet")):
        page = made[page_path(entry.ref)]
        steps = [step for part in getattr(entry, "parts", (entry,)) for step in part.steps]
        for step in steps:
            begins = escape(step.do.partition("[[")[0][:60])
            late += [f"{entry.ref}: {ref}" for ref in step.cautions if not 0 <= page.find(library[ref].name) < page.find(begins)]
    assert late == []


def test_empty_rows_and_lines_are_printed(root: Path) -> None:
    library, _ = read_library(root / "tests" / "rules" / "good")
    text = "\n".join(sheet(library["sheet:log"], View(library, "sheets/log.md")))
    assert text.count("| &nbsp; | &nbsp; |") == 12 + 1  # twelve empty rows, and one that an ellipsis leaves free
    assert "| 2 | &nbsp; |" in text and "<li><span>Clock</span></li>" in text


def test_the_days_of_full_moon_are_those_of_an_almanac(library: Library) -> None:
    for row in library.table("full-moons"):
        day, found = ephem.Date(f"{row.name}/1/1"), []
        while (day := ephem.next_full_moon(day)).datetime().year == int(row.name):
            found.append(f"{day.datetime().day} {MONTHS[day.datetime().month - 1]}")
        assert row.cells["days"] == ", ".join(found)
