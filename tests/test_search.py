"""The search of the page, in a V8 without a browser, over the index as it is built: what people type leads to the page that answers."""
from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from py_mini_racer import MiniRacer

from build_tools.library import Library
from build_tools.render.kinds import page_path
from build_tools.render.search import NAMES, TEXT, search_files

HERE = Path(__file__).resolve().parent
SCRIPT = HERE.parent / "docs" / "js" / "search.js"
AMONG = 3  # the page must be among so many

Find = Callable[[str], list[dict[str, Any]]]


def phrases() -> Iterator[Any]:
    """Every phrase with the pages of which one must be found."""
    for group, found in yaml.safe_load((HERE / "searches.yaml").read_text(encoding="utf-8")).items():
        for typed, pages in found.items():
            yield pytest.param(str(typed), [pages] if isinstance(pages, str) else pages, id=f"{group}: {typed}")


@pytest.fixture(scope="module")
def files(library: Library) -> dict[str, str]:
    return search_files(library)


def engine_with(names: str, texts: str = "") -> MiniRacer:
    engine = MiniRacer()
    engine.eval(SCRIPT.read_text(encoding="utf-8"))
    engine.eval(f"var index = new ClockRef.search.Index({names});")
    if texts:
        engine.eval(f"index.addTexts({texts});")
    return engine


def finder(engine: MiniRacer) -> Find:
    return lambda text: json.loads(engine.eval(f"JSON.stringify(ClockRef.search.find(index, {json.dumps(text)}))"))


@pytest.fixture(scope="module")
def find(files: dict[str, str]) -> Iterator[Find]:
    with engine_with(files[NAMES], files[TEXT]) as engine:
        yield finder(engine)


@pytest.fixture
def small() -> Iterator[Callable[..., Find]]:
    """Makes a search over pages that the test makes up: names by id, the first the title, and perhaps a text."""
    engines: list[MiniRacer] = []

    def made(pages: dict[str, list[str]], texts: dict[str, str] | None = None, edition: str = "one") -> Find:
        kinds = [{"name": "word", "folder": "terms/", "weight": 1}]
        names = {"edition": "one", "kinds": kinds, "pages": [[0, called[0], "|".join(called[1:]), "", id] for id, called in pages.items()]}
        wanted = {"edition": edition, "more": [], "pages": [[(texts or {}).get(id, ""), ""] for id in pages]}
        engines.append(engine_with(json.dumps(names), json.dumps(wanted)))
        return finder(engines[-1])

    yield made
    for engine in engines:
        engine.close()


@pytest.mark.parametrize(("typed", "pages"), list(phrases()))
def test_what_people_type_leads_to_the_page(typed: str, pages: list[str], find: Find) -> None:
    found = [hit["address"].rstrip("/") for hit in find(typed)[:AMONG]]
    assert set(pages) & set(found), f"{typed!r} leads to {found}; give {' or '.join(pages)} a name, in its `asked`"


def test_the_names_alone_which_come_with_a_first_visit_lead_to_nearly_all(files: dict[str, str]) -> None:
    with engine_with(files[NAMES]) as engine:
        find = finder(engine)
        missed = [typed for typed, pages in (phrase.values for phrase in phrases()) if not set(pages) & {hit["address"].rstrip("/") for hit in find(typed)[:AMONG]}]
    assert len(missed) <= 0.02 * sum(1 for _ in phrases()), missed


def test_there_are_many_and_none_stands_twice() -> None:
    typed = [phrase.values[0].lower() for phrase in phrases()]
    assert len(typed) == len(set(typed)) >= 500


def test_every_address_is_a_page_of_the_site(files: dict[str, str], built_site: Path) -> None:
    with engine_with(files[NAMES], files[TEXT]) as engine:
        addresses = json.loads(engine.eval("JSON.stringify(index.pages.map((page) => page.address))"))
    assert [address for address in addresses if not (built_site / address / "index.html").is_file()] == []
    assert len(addresses) == len(set(addresses)) == len(json.loads(files[TEXT])["pages"])


def test_a_word_is_found_by_each_of_its_names(library: Library, find: Find) -> None:
    named = [(name, f"{page_path(term.ref).removesuffix('.md')}/") for term in library.of_kind("term") for name in (term.word, *term.also, *term.american, *term.plain)]
    for name, address in random.Random(7).sample(named, 150):
        assert address in [hit["address"] for hit in find(name)[:AMONG]], name


def test_pages_written_by_hand_are_found_by_their_text_and_say_what_they_are(find: Find) -> None:
    hit = next(hit for hit in find("Paris inches on the plate, retailer, valuer") if hit["address"] == "marks/")
    assert hit["kind"] == "page" and hit["says"].startswith("What plate marks") and "]" not in hit["says"]


def test_a_whole_word_goes_above_a_beginning_and_a_name_above_the_text(small: Callable[..., Find]) -> None:
    find = small({"a": ["Arcade"], "b": ["Beam", "arc"], "c": ["Case"]}, {"c": "The arc of the case."})
    assert [hit["address"] for hit in find("arc")] == ["terms/b/", "terms/a/", "terms/c/"]


def test_small_words_win_nothing(small: Callable[..., Find]) -> None:
    find = small({"a": ["A few of the after"], "b": ["It stops for no reason"]})
    assert find("it stops after a few minutes")[0]["address"] == "terms/b/"
    assert [hit["title"] for hit in find("the")] == ["A few of the after"]


@pytest.mark.parametrize("typed", ["fusees", "fusse", "fuse", "fusea", "fuese", "FUSÉE", "fus"])
def test_plural_slip_accent_and_beginning(typed: str, small: Callable[..., Find]) -> None:
    assert [hit["title"] for hit in small({"a": ["Fusee"], "b": ["Barrel"]})(typed)] == ["Fusee"]


@pytest.mark.parametrize(("typed", "name"), [("countwheel", "Count wheel"), ("count wheel", "Countwheel"), ("contwheel", "Count wheel"), ("count-wheels", "Countwheel")])
def test_two_words_may_be_written_as_one(typed: str, name: str, small: Callable[..., Find]) -> None:
    assert small({"a": [name], "b": ["Rack"]})(typed)[0]["title"] == name


def test_two_slips_in_a_short_word_are_too_many(small: Callable[..., Find]) -> None:
    assert small({"a": ["Rack"]})("racet") == []


def test_it_says_under_which_name_a_page_was_found_and_what_it_is(small: Callable[..., Find]) -> None:
    hit = small({"a": ["Wheel", "gear", "cog"]}, {"a": "A toothed disc."})("cogs")[0]
    assert (hit["title"], hit["name"], hit["kind"], hit["says"]) == ("Wheel", "cog", "word", "A toothed disc.")


def test_texts_of_another_edition_are_left_alone(small: Callable[..., Find]) -> None:
    assert small({"a": ["Wheel"]}, {"a": "A toothed disc."}, edition="two")("toothed") == []


@pytest.mark.parametrize("typed", ["", "   ", "?!", "the", "𓀀", "a" * 3000, "__proto__", "constructor toString"])
def test_anything_may_be_typed(typed: str, find: Find) -> None:
    assert isinstance(find(typed), list)
