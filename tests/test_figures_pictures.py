"""Figures on pages: each has its words, the gallery shows every kind, ids stay unique, and answers have what is to be seen."""
from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import pytest

from build_tools.figures.answer import SIDE, picture
from build_tools.figures.svg import text_width
from build_tools.library import Library
from build_tools.render.pictures import PICTURES, gallery, generated_scripts, picture_sheets
from build_tools.render.view import View


def test_every_figure_stands_on_pages_that_exist(library: Library) -> None:
    rows = library.table("figures")
    assert {row.name for row in rows} == set(PICTURES)
    assert [ref for row in rows for ref in row.cells["shown_on"] if ref not in library] == []


def test_the_gallery_shows_every_figure(library: Library) -> None:
    text = gallery(library)["figures.md"]
    heads = [row.says for row in library.table("figures")] + [entry.name for entry in library.of_kind("plate")]
    assert [head for head in heads if f"## {head}" not in text] == []
    curves = [f'id="curve-{entry.id}-title"' for entry in library.of_kind("calculation") if entry.plot]
    barrels = [f'id="pins-{entry.id}-title"' for entry in library.of_kind("melody")]
    trains = [f"counts/{entry.id}.md" for entry in library.of_kind("count")]
    assert [mark for mark in curves + barrels + trains if mark not in text] == []


def test_every_train_type_with_wheels_shows_them_in_plan_and_from_the_side(library: Library, made: dict[str, str]) -> None:
    without = {entry.id for entry in library.of_kind("train") if not all(f'class="drawing train {view}"' in made[f"trains/{entry.id}.md"] for view in ("plan", "elevation"))}
    assert without == {"not-mechanical"}, "battery and mains movements have no train of this reference"


def test_every_count_shows_its_wheels_in_plan_and_from_the_side(library: Library, made: dict[str, str]) -> None:
    for entry in library.of_kind("count"):
        assert all(f'class="drawing train {view}"' in made[f"counts/{entry.id}.md"] for view in ("plan", "elevation")), entry.id


def test_figures_with_names_have_a_sheet_to_fill_in_and_its_answers(library: Library) -> None:
    made = picture_sheets(library)
    for name, drawn in PICTURES.items():
        if drawn.blank:
            blank, answers = made[f"figures/{name}/to-fill-in.md"], made[f"figures/{name}/answers.md"]
            assert blank.count("<li>") == len(drawn.names) and not any(f">{each.says}<" in blank for each in drawn.names), name
            assert all(f"[{each.says}](" in answers for each in drawn.names), name


def test_every_drawing_on_every_page_is_well_formed_and_says_what_it_shows(made: dict[str, str]) -> None:
    seen = 0
    for path, text in made.items():
        for svg in re.findall(r'<svg class="drawing(?![^>]*aria-hidden).*?</svg>', text, re.DOTALL):
            root = ElementTree.fromstring(svg)
            assert root.find("title").text and len(root.find("desc").text) > 20, path
            seen += 1
    assert seen > 500


def test_ids_are_unique_on_each_page(made: dict[str, str]) -> None:
    for path, text in made.items():
        ids = Counter(re.findall(r' id="([^"]+)"', "".join(re.findall(r"<svg.*?</svg>", text, re.DOTALL))))
        assert [name for name, times in ids.items() if times > 1] == [], path


def test_no_number_has_more_than_two_decimals(made: dict[str, str]) -> None:
    """So that every machine writes the same bytes."""
    for path, text in made.items():
        for svg in re.findall(r'<svg class="drawing.*?</svg>', text, re.DOTALL):
            assert re.findall(r'(?: d| x| y| cx| cy| r| transform)="[^"]*\d\.\d{5,}', svg) == [], path


def numbers_in(svg: str) -> list[float]:
    return [float(value) for name in ("cx", "cy", "x", "y") for value in re.findall(rf' {name}="(-?[\d.]+)"', svg)]


def test_the_drawings_of_answers_stay_in_their_square(library: Library) -> None:
    drawn = [(entry.id, answer) for entry in library.of_kind("question") for answer in entry.answers if answer.picture]
    assert len(drawn) > 100
    for question, answer in drawn:
        svg = picture(answer.picture)
        ElementTree.fromstring(svg)
        assert all(-SIDE * 0.1 <= value <= SIDE * 1.1 for value in numbers_in(svg)), (question, answer.id, answer.picture)


# Common practice, as the question's own answers say: so many holes in the dial.
@pytest.mark.parametrize(("answer", "holes"), [("none", 0), ("one", 1), ("two", 2), ("three", 3), ("four-plus", 4)])
def test_a_dial_has_the_holes_that_its_answer_says(library: Library, answer: str, holes: int) -> None:
    shapes = next(each.picture for each in library["question:winding-holes"].answers if each.id == answer)
    assert picture(shapes).count('class="solid" x=') == holes


def drawn(library: Library, question: str, answer: str) -> str:
    return picture(next(each.picture for each in library[f"question:{question}"].answers if each.id == answer))


# Common practice, as the answers themselves say: so many springs, keys, hammers, weights, rods.
@pytest.mark.parametrize(
    ("question", "mark", "counts"),
    [
        ("power-sources", 'class="solid" x=', {"one": [1], "two": [2], "three": [3], "four-plus": [4]}),
        ("rear-winders", 'class="solid" cx=', {"nothing": [0], "one": [1], "two": [2], "three-plus": [3]}),
        ("hammers", 'class="deep" x=', {"none": [0], "one": [1], "two": [2], "three-five": [3, 4, 5], "six-plus": range(6, 9)}),
        ("weights", 'class="deep" x=', {"none": [0], "one": [1], "two": [2], "three": [3]}),
        ("sounding-bodies", 'class="thick" d=', {"rods-1-3": [1, 2, 3], "rods-4-5": [4, 5], "rods-6-plus": range(6, 9)}),
    ],
)
def test_a_picture_has_as_many_as_its_answer_says(library: Library, question: str, mark: str, counts: dict[str, Sequence[int]]) -> None:
    for answer, allowed in counts.items():
        assert drawn(library, question, answer).count(mark) in allowed, answer


def test_letters_in_the_pictures_of_answers_stay_in_their_square(library: Library) -> None:
    letters = [
        (question.id, answer.id, float(x), word)
        for question in library.of_kind("question") for answer in question.answers if answer.picture
        for x, word in re.findall(r'<text text-anchor="middle" x="([\d.]+)"[^>]*>([^<]*)<', picture(answer.picture))
    ]
    assert {"STRIKE", "CHIME", "SILENT"} <= {word for *_, word in letters}
    assert [each for each in letters if not text_width(each[3]) / 2 <= each[2] <= SIDE - text_width(each[3]) / 2] == []


def test_what_is_told_by_looking_has_pictures_and_what_is_heard_has_none(library: Library) -> None:
    pictured = {entry.id for entry in library.of_kind("question") if any(answer.picture for answer in entry.answers)}
    assert pictured == {entry.id for entry in library.of_kind("question") if not entry.answered_by}
    assert {"case-form", "winding-holes", "pallet-form"} <= pictured and "hour-sound" not in pictured


def test_answers_of_one_question_look_different(library: Library) -> None:
    for entry in library.of_kind("question"):
        drawn = [answer.picture for answer in entry.answers if answer.picture]
        assert len(set(drawn)) == len(drawn), entry.id


def test_the_live_key_gets_every_drawing(library: Library) -> None:
    script = generated_scripts(library)["js/key-pictures.js"]
    assert script.count("<svg") == sum(bool(answer.picture) for entry in library.of_kind("question") for answer in entry.answers)


def test_a_figure_looks_the_same_from_every_page_but_for_its_addresses(library: Library) -> None:
    for name, each in PICTURES.items():
        one, other = each.draw(View(library, "terms/a.md")), each.draw(View(library, "figures.md"))
        assert re.sub(r'href="[^"]*"', "", one) == re.sub(r'href="[^"]*"', "", other), name


DIGEST = """
import hashlib, sys
from build_tools.library import read_library
from build_tools.render.pictures import gallery
library, problems = read_library()
sys.stdout.write(hashlib.sha256(gallery(library)["figures.md"].encode()).hexdigest())
"""


def test_every_run_writes_the_same_bytes(root: Path) -> None:
    """Python orders its sets by a seed that changes from run to run; nothing drawn may hang on it."""
    found = {
        subprocess.run([sys.executable, "-c", DIGEST], cwd=root, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1 and len(found.pop()) == 64
