"""The charts: a sheet's worth of boxes, every outcome named, every link with its end, letters that can be read."""
from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import pytest

from build_tools.figures.ladder import COLUMN, FONT, LEAST, WIDTH, Rung, ladder
from build_tools.key import Key
from build_tools.key_answers import facets
from build_tools.key_chart import Box, chart
from build_tools.library import Library
from build_tools.render.key import pages
from tests.knowledge import read_once

LIBRARY = read_once()[0]
CHARTS = [(row.name, place.name) for row in facets(LIBRARY) for place in LIBRARY.table("viewpoints")]
AT_ONCE = 14  # how far the last question may go over the number of boxes: no question has more answers


@cache
def drawn(facet: str, viewpoint: str) -> tuple[Key, tuple[Box, ...]]:
    key = Key(LIBRARY, facet)
    return key, chart(key, viewpoint)


def named(text: str) -> str:
    return "-".join(text) if isinstance(text, tuple) else text


@pytest.fixture(params=[pair for pair in CHARTS if drawn(*pair)[1]], ids=named)
def key_and_boxes(request: pytest.FixtureRequest) -> tuple[Key, tuple[Box, ...]]:
    return drawn(*request.param)


def test_the_three_facets_have_a_chart_from_every_place_that_sees_something() -> None:
    assert {("trains", place.name) for place in LIBRARY.table("viewpoints")} <= {pair for pair in CHARTS if drawn(*pair)[1]}
    assert all(drawn(facet, place)[1] for facet in ("drive", "striking-control") for place in ("dial-shut", "door-open", "back", "bench"))


def test_it_is_about_a_sheet_full(key_and_boxes: tuple[Key, tuple[Box, ...]]) -> None:
    key, boxes = key_and_boxes
    assert 3 <= len(boxes) < key.facet.settings.boxes + AT_ONCE


def test_every_outcome_is_named(key_and_boxes: tuple[Key, tuple[Box, ...]]) -> None:
    key, boxes = key_and_boxes
    assert {one for box in boxes for one in (*box.outcomes, *box.rarer)} == set(range(len(key.facet.outcomes)))


def test_every_end_names_something_and_every_question_leads_on(key_and_boxes: tuple[Key, tuple[Box, ...]]) -> None:
    _, boxes = key_and_boxes
    for box in boxes:
        below = [one for one in boxes if one.above == box.number]
        assert (len(below) >= 2 and not box.outcomes) if box.question else (not below and box.outcomes)


def test_each_answer_leads_to_one_place(key_and_boxes: tuple[Key, tuple[Box, ...]]) -> None:
    key, boxes = key_and_boxes
    for box in (box for box in boxes if box.question):
        below = [one for one in boxes if one.above == box.number]
        answers = [answer for one in below for answer in one.by]
        assert len(answers) == len(set(answers)) and sum(not one.by for one in below) <= 1
        assert sum(one.chance for one in below) == pytest.approx(box.chance, rel=1e-9)
        if all(one.by for one in below):
            assert set(answers) == set(key.facet.shares[box.question])


def test_only_what_can_be_seen_from_there_is_asked() -> None:
    for facet, viewpoint in CHARTS:
        key, boxes = drawn(facet, viewpoint)
        assert {box.question for box in boxes if box.question} <= set(key.reach(viewpoint))


RUNGS = [
    Rung("box-1", "", "What kind of case is it?", "#card-1", 0, -1, False),
    *(Rung(f"box-{number}", "tall case on the floor", "Likely: a going train & a strike, with “more words” than fit one line", "../x/", 1, 0, True) for number in range(2, 40)),
]


def test_the_ladder_can_be_read_and_hit_on_a_phone() -> None:
    parts = ElementTree.fromstring(ladder(RUNGS, "Chart <of> trains")).findall("svg")
    assert len(parts) > 1
    heights = [float(rect.get("height")) for part in parts for rect in part.iter("rect")]
    assert len(heights) == len(RUNGS) and min(heights) >= LEAST >= 48 and FONT >= 15
    for part in parts:
        left, top, width, height = map(float, part.get("viewBox").split())
        assert (left, top, width) == (0, 0, WIDTH) and height <= COLUMN * 1.2
        assert part.get("role") == "group" and part.get("aria-label").startswith("Chart <of> trains")
        for rect in part.iter("rect"):
            assert float(rect.get("x")) + float(rect.get("width")) <= WIDTH and float(rect.get("y")) + float(rect.get("height")) <= height


def test_the_ladder_takes_its_colours_from_the_page() -> None:
    assert not re.search(r"#[0-9a-f]{3,6}\b(?=\")|rgb|fill=|stroke=|style=", ladder(RUNGS[:3], "Chart").replace("#card-1", ""))


def test_every_rung_is_one_link_with_its_own_name() -> None:
    drawing = ElementTree.fromstring(ladder(RUNGS, "Chart"))
    anchors = [link.get("id") for link in drawing.iter("a")]
    assert anchors == [rung.anchor for rung in RUNGS]
    words = "".join(next(drawing.iter("a")).itertext())
    assert words.strip() == "What kind of case is it?"


@pytest.fixture(scope="module")
def key_pages(library: Library) -> dict[str, str]:
    return pages(library)


def test_each_facet_has_its_live_page_and_its_charts(key_pages: dict[str, str], library: Library) -> None:
    assert {f"key/{row.name}.md" for row in facets(library)} | {"key/index.md"} <= set(key_pages)
    assert {f"key/{facet}-{place}.md" for facet, place in CHARTS if drawn(facet, place)[1]} <= set(key_pages)


def test_every_card_link_has_its_card(key_pages: dict[str, str]) -> None:
    for path, text in key_pages.items():
        cards = re.findall(r'id="(card-\d+)"', text)
        assert len(cards) == len(set(cards))
        assert set(re.findall(r'href="#(card-\d+)"', text)) <= set(cards), path
