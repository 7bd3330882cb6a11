"""The library finds entries, names, back-links and places, on the small good example."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from build_tools.library import Library, read_library

GOOD = Path(__file__).parent / "rules" / "good"


@pytest.fixture(scope="module")
def small() -> Library:
    return read_library(GOOD)[0]


def test_entries_by_reference_and_by_kind(small: Library) -> None:
    assert small["term:great-wheel"].name == "great wheel"
    assert small.get("term:grate-wheel") is None and "term:great-wheel" in small
    assert [entry.id for entry in small.of_kind("caution")] == ["dial-water", "dry-dial", "wet-dial"]
    assert small.of_kind("train") == ()


def test_names_lead_to_every_term_that_has_them(small: Library) -> None:
    assert small.names["great wheels"] == ["term:great-wheel"]
    assert small.names["main wheel"] == ["term:centre-wheel", "term:great-wheel"]


def test_back_links_come_from_fields_and_from_prose(small: Library) -> None:
    assert small.used_by("caution:dry-dial") == ("caution:dial-water", "caution:wet-dial")
    users = small.used_by("term:great-wheel")
    assert "caution:dial-water" in users and "term:great-wheel" not in users and list(users) == sorted(users)
    assert small.used_by("source:course-sheet") == ("term:great-wheel",)


def test_values_arrive_as_they_were_typed(small: Library) -> None:
    rows = small.table("plate-marks")
    assert [row.name for row in rows] == ["60:8", "no", "010"]
    assert rows[0].cells == {"inches": 60, "words": ["sixty", "eight"]} and rows[2].says == "plate #10"
    tower = small["count:tower"]
    assert [arbor.wheel for arbor in tower.arbors] == [100, 80, None, None] and tower.arbors[1].turns_once_in == "1/8"
    assert small["caution:dial-water"].note == "First line.\nSecond line."


def test_a_basis_is_a_word_or_a_source_with_its_place(small: Library) -> None:
    plain, cited = small["term:great-wheel"].basis
    assert (plain.word, plain.source) == ("common practice", "")
    assert (cited.word, cited.source, cited.place, cited.for_) == ("source", "source:course-sheet", "p. 1", "the word")


def test_other_languages_are_apart_from_their_basis(small: Library) -> None:
    languages = small["term:great-wheel"].languages
    assert languages.words == {"de": ("Walzenrad",), "no": ("drivhjul",)} and languages.basis[0].word == "memory"


def test_entries_cannot_be_changed(small: Library) -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        small["term:great-wheel"].word = "other"


def test_places_are_those_of_the_file(small: Library) -> None:
    lines = (GOOD / "kb/counts/tower.yaml").read_text(encoding="utf-8").splitlines()
    place = small.place("count:tower", "arbors", 1, "pinion")
    assert lines[place.line - 1][place.column - 1 :].startswith("10, wheel: 80")


def test_a_broken_file_is_left_out_and_remembered() -> None:
    library, problems = read_library(GOOD.parent / "bad" / "KB014-misspelled-field")
    assert len(library) == 0 and list(library.broken) == ["caution:dial-water"] and len(problems) == 1
