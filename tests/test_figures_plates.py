"""The named drawings: every name leads to its word, stands clear of the others, and comes back as a number to fill in."""
from __future__ import annotations

import math

import pytest

from build_tools.figures import plate as figures
from build_tools.figures.names import TOUCH, in_order
from build_tools.figures.shapes import bounds, shape
from build_tools.figures.svg import WIDTH, text_width
from build_tools.library import Library
from build_tools.render.plate import FIND, sheet_pages, words_in
from tests.test_figures_trains import SVG, boxes, drawn, overlapping


@pytest.fixture(scope="module")
def plates(library: Library):
    return [(entry, words_in(entry, library)) for entry in library.of_kind("plate")]


def address(ref: str) -> str:
    return f"../{ref}/"


def test_names_stand_clear_of_one_another_on_a_phone(plates) -> None:
    for entry, words in plates:
        svg = drawn(figures.labelled(entry, words, address))
        assert overlapping(svg) == [], entry.id
        assert [box for box in boxes(svg) if box[0] < 0 or box[2] > WIDTH or box[1] < 0 or box[3] > entry.height] == [], entry.id


def test_every_named_part_leads_to_its_word(plates) -> None:
    for entry, words in plates:
        links = {link.get("href") for link in drawn(figures.labelled(entry, words, address)).iter(f"{SVG}a")}
        assert links == {address(part.of) for part in entry.parts}, entry.id


def test_every_part_is_lit_on_its_own_page_and_no_other(plates) -> None:
    for entry, words in plates:
        for part in entry.parts:
            if part.draw:
                svg = drawn(figures.with_one_lit(entry, part.of, words, address))
                lit = {link.get("href") for link in svg.iter(f"{SVG}a") if "lit" in link.get("class")}
                assert lit == {address(part.of)}, (entry.id, part.of)


def test_the_sheet_has_a_number_for_each_name_and_tells_none(plates) -> None:
    for entry, words in plates:
        svg = drawn(figures.to_fill_in(entry, words))
        assert [text.text for text in svg.iter(f"{SVG}text")] == [str(number) for number, _ in in_order(figures.names_of(entry, words))], entry.id
        assert overlapping(svg) == [], entry.id
        assert list(svg.iter(f"{SVG}a")) == []


def test_all_names_stand_in_the_words_as_well(plates) -> None:
    for entry, words in plates:
        said = drawn(figures.labelled(entry, words, address)).find(f"{SVG}desc").text
        assert all((part.says or words[part.of]) in said for part in entry.parts), entry.id


def test_every_drawn_part_can_be_found_by_its_look(plates, library: Library) -> None:
    text = sheet_pages(library)[FIND]
    for entry, words in plates:
        assert f'id="stock-{entry.id}"' in text
        assert text.count(f'href="#stock-{entry.id}"') == sum(bool(part.draw) for part in entry.parts), entry.id


def test_a_close_up_holds_the_whole_part(plates) -> None:
    for entry, words in plates:
        for part in entry.parts:
            if part.draw:
                x, y, side, _ = map(float, drawn(figures.close_up(entry, part)).get("viewBox").split())
                for left, top, right, bottom in map(bounds, part.draw):
                    assert x < left and y < top and right < x + side and bottom < y + side, (entry.id, part.of)


@pytest.mark.parametrize(("words", "wanted"), [
    ("circle 100 80 30", '<circle class="paper" cx="100" cy="80" r="30"/>'),
    ("thick line 1 2 3 4", '<path class="thick" d="M1 2L3 4"/>'),
    ("box 1 2 3 4", '<rect class="paper" x="1" y="2" width="3" height="4"/>'),
    ("dot 5 6 2", '<circle class="solid" cx="5" cy="6" r="2"/>'),
])
def test_shapes(words: str, wanted: str) -> None:
    assert shape(words) == wanted


@pytest.mark.parametrize(("words", "teeth"), [("ratchet 50 50 20 15", 15), ("rack 50 50 40 0 40 12", 12)])
def test_teeth_are_counted(words: str, teeth: int) -> None:
    steps = shape(words).count("L") + 1
    assert steps == {"ratchet": 2 * teeth, "rack": 3 * teeth + 3}[words.split()[0]]


def test_what_is_tapped_is_as_tall_as_a_thumb_needs(plates) -> None:
    """24 px from name to name, as the accessibility guidelines (WCAG 2.2, 2.5.8) ask; shapes are links as well, but the names are enough."""
    for entry, words in plates:
        names = figures.names_of(entry, words)
        for place, name in enumerate(names):
            for other in names[:place]:
                (left, right), (begin, end) = name.edges(text_width(name.says)), other.edges(text_width(other.says))
                assert not (left < end and begin < right) or abs(name.at[1] - other.at[1]) >= TOUCH, (entry.id, name.says, other.says)
        rooms = [room for link in drawn(figures.labelled(entry, words, address)).iter(f"{SVG}a") for room in link.iter(f"{SVG}rect") if room.get("class") == "hit"]
        assert len(rooms) == len(names) and all(float(room.get("height")) >= TOUCH for room in rooms), entry.id


# Common practice: what a vocabulary plate of a movement must name, down to the small parts.
@pytest.mark.parametrize("word", [
    "fly", "click", "click-spring", "crutch", "hammer-tail", "hammer-spring", "gathering-pallet", "warning-piece", "lifting-piece", "rack-hook", "suspension-spring",
    "rating-nut", "cannon-pinion", "minute-wheel", "hour-wheel", "collet", "taper-pin", "stopwork", "fusee-chain", "fusee-stop", "count-hook", "snail", "rack-tail",
    "pallet-arbor", "back-cock", "pillar", "barrel-arbor", "ratchet", "hand-friction", "chops", "potence", "banking", "guard-pin", "curb-pins", "balance-spring-stud",
    "endpiece", "oil-sink", "shoulder", "leaf", "rim", "crossings", "spike-wheel", "stirrup", "weight-hook", "gut-knot", "alarm-disc", "bell-stand", "gong-block",
    "quarter-rack", "quarter-snail", "hour-rack", "all-or-nothing-piece", "flirt", "locking-piece", "strike-wire", "bellows-lever", "cuckoo-pipe", "moon-work", "jumper",
])
def test_small_parts_have_a_plate_on_which_they_are_lit(library: Library, plates, word: str) -> None:
    assert f"term:{word}" in library
    shown = [(entry, words) for entry, words in plates if any(part.of == f"term:{word}" for part in entry.parts)]
    assert shown, word
    assert any("lit" in figures.with_one_lit(entry, f"term:{word}", words, address) or any(part.of == f"term:{word}" and part.label for part in entry.parts) for entry, words in shown)


# The geometry of a stopwork (any book on cams): with n slots at a distance d, the wheel's radius is d cos(180/n), the finger reaches d sin(180/n).
def test_a_stopwork_has_a_hollow_for_every_turn_but_one() -> None:
    svg = shape("geneva 100 100 54 5 90")
    points = [tuple(map(float, pair.split())) for pair in svg.split('d="M')[1].rstrip('Z"/>').split("L")]
    radii = [math.hypot(x - 100, y - 100) for x, y in points]
    assert max(radii) == pytest.approx(54 * math.cos(math.pi / 5), abs=0.02)
    assert min(radii) < 54 - 54 * math.sin(math.pi / 5), "a slot lets the finger in"
    at = [math.hypot(100 + 54 * math.sin(math.radians(90 + 72 * n)) - x, 100 - 54 * math.cos(math.radians(90 + 72 * n)) - y) for n in range(5) for x, y in points]
    nearest = [min(at[n * len(points):(n + 1) * len(points)]) for n in range(5)]
    assert nearest[0] < min(nearest[1:]), "the arm that is not hollowed stands in the way of the disc"
