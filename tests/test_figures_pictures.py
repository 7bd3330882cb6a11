"""Figures on pages: each has its words, the gallery shows every kind, ids stay unique, and answers have what is to be seen."""
from __future__ import annotations

import re
from collections import Counter
from xml.etree import ElementTree

import pytest

from build_tools.figures.answer import SIDE, picture
from build_tools.library import Library
from build_tools.render import pages
from build_tools.render.pictures import PICTURES, gallery, generated_scripts
from build_tools.render.view import View


@pytest.fixture(scope="module")
def texts(library: Library) -> dict[str, str]:
    return pages(library)


def test_every_figure_stands_on_pages_that_exist(library: Library) -> None:
    assert [ref for each in PICTURES for ref in each.on if ref not in library] == []


def test_the_gallery_shows_one_of_each(library: Library) -> None:
    text = gallery(library)["figures.md"]
    assert [each.title for each in PICTURES if f"## {each.title}" not in text] == []


def test_every_drawing_on_every_page_is_well_formed_and_says_what_it_shows(texts: dict[str, str]) -> None:
    seen = 0
    for path, text in texts.items():
        for svg in re.findall(r'<svg class="drawing(?![^>]*aria-hidden).*?</svg>', text, re.DOTALL):
            root = ElementTree.fromstring(svg)
            assert root.find("title").text and len(root.find("desc").text) > 20, path
            seen += 1
    assert seen > 500


def test_ids_are_unique_on_each_page(texts: dict[str, str]) -> None:
    for path, text in texts.items():
        ids = Counter(re.findall(r' id="([^"]+)"', "".join(re.findall(r"<svg.*?</svg>", text, re.DOTALL))))
        assert [name for name, times in ids.items() if times > 1] == [], path


def test_no_number_has_more_than_two_decimals(texts: dict[str, str]) -> None:
    """So that every machine writes the same bytes."""
    for path, text in texts.items():
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


def test_answers_of_one_question_look_different(library: Library) -> None:
    for entry in library.of_kind("question"):
        drawn = [answer.picture for answer in entry.answers if answer.picture]
        assert len(set(drawn)) == len(drawn), entry.id


def test_the_live_key_gets_every_drawing(library: Library) -> None:
    script = generated_scripts(library)["js/key-pictures.js"]
    assert script.count("<svg") == sum(bool(answer.picture) for entry in library.of_kind("question") for answer in entry.answers)


def test_a_figure_looks_the_same_from_every_page_but_for_its_addresses(library: Library) -> None:
    for each in PICTURES:
        one, other = each.draw(View(library, "terms/a.md")), each.draw(View(library, "figures.md"))
        assert re.sub(r'href="[^"]*"', "", one) == re.sub(r'href="[^"]*"', "", other), each.id
