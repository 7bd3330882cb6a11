"""What is played by ear: scores from the entries, timed by the page's script in an embedded V8."""
from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from py_mini_racer import MiniRacer

from build_tools.library import Library
from build_tools.render.ear import generated_scripts, melody_scores, scheme_scores

JS = Path(__file__).resolve().parent.parent / "docs" / "js"
HIGH, LOW = "E5", "C5"


@pytest.fixture(scope="module")
def engine(library: Library) -> Iterator[MiniRacer]:
    with MiniRacer() as made:
        made.eval((JS / "ear-score.js").read_text(encoding="utf-8"))
        made.eval(generated_scripts(library)["js/ear-data.js"])
        yield made


@pytest.fixture(scope="module")
def played(engine: MiniRacer) -> Callable[..., list[dict[str, Any]]]:
    def play(score: str, hour: int = 3, low: str = LOW, high: str = HIGH) -> list[dict[str, Any]]:
        bells = json.dumps({"low": low, "high": high})
        return json.loads(engine.eval(f"JSON.stringify(ClockRef.score.schedule({json.dumps(score)}, {hour}, {bells}, ClockRef.earData.pace))"))

    return play


@pytest.mark.parametrize(("note", "vibrations"), [
    ("A4", 440.0), ("C4", 261.6256), ("E3", 164.8138), ("B3", 246.9417), ("E4", 329.6276), ("F#4", 369.9944), ("G4", 391.9954), ("G#4", 415.3047),
    ("Bb5", 932.3275), ("C5", 523.2511), ("D5", 587.3295), ("E5", 659.2551), ("F#5", 739.9888),
])
def test_notes_have_the_vibrations_of_equal_temperament(note: str, vibrations: float, engine: MiniRacer) -> None:
    """The usual table of equal temperament with A4 at 440."""
    assert engine.eval(f"ClockRef.score.frequency('{note}', 440)") == pytest.approx(vibrations, abs=1e-4)


def blows(name: str, library: Library, played: Callable[..., list[dict[str, Any]]], *occasions: str) -> dict[int, list[str]]:
    """The notes of a scheme from one to twelve o'clock on these occasions."""
    row = next(row for row in library.table("striking-schemes") if row.name == name)
    scores = scheme_scores(row)
    return {hour: [one["note"] for occasion in occasions for one in played(scores[occasion], hour, row.cells["low"], row.cells.get("high", ""))] for hour in range(1, 13)}


def test_twelve_hours_of_counting_take_seventy_eight_blows(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    assert sum(map(len, blows("hours", library, played, "hour").values())) == 78


def test_with_the_half_it_is_ninety(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    assert sum(map(len, blows("halves", library, played, "hour", "half").values())) == 90


def test_roman_striking_takes_thirty_and_says_the_numerals(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    """The numerals with IV, the larger bell V and two of it X."""
    numerals = "I II III IV V VI VII VIII IX X XI XII".split()
    spelt = [numeral.replace("X", "VV").replace("I", HIGH + " ").replace("V", LOW + " ").split() for numeral in numerals]
    found = blows("roman", library, played, "hour")
    assert list(found.values()) == spelt
    assert sum(map(len, spelt)) == 30


def test_grande_sonnerie_strikes_the_hour_four_times_in_an_hour(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    """312 blows for the hours in twelve hours, beside two for each of six quarters an hour."""
    assert sum(map(len, blows("grande-sonnerie", library, played, "hour", "first", "half", "third").values())) == 312 + 12 * 12


def test_ships_bells_grow_by_one_each_half_hour_from_one_to_eight(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    found = [[len(blows("ships-bells", library, played, occasion)[hour]) for occasion in ("hour", "half")] for hour in range(1, 13)]
    in_order = [count for pair in found for count in pair]
    assert in_order == [(at + 1) % 8 + 1 for at in range(24)], "one o'clock is two bells"


def test_dutch_striking_gives_the_coming_hour_on_the_smaller_bell(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    found = blows("dutch", library, played, "half")
    assert found[2] == [HIGH] * 3 and found[12] == [HIGH]


def test_the_hour_twice(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    row = next(row for row in library.table("striking-schemes") if row.name == "double-hour")
    notes = played(scheme_scores(row)["hour"], 5)
    gaps = [later["at"] - one["at"] for one, later in zip(notes, notes[1:], strict=False)]
    assert len(notes) == 10 and gaps.index(max(gaps)) == 4


def test_every_scheme_sounds_only_bells_that_it_has(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    for row in library.table("striking-schemes"):
        bells = {row.cells["low"], row.cells.get("high", row.cells["low"])}
        for score in scheme_scores(row).values():
            for hour in (1, 12):
                assert {one["note"] for one in played(score, hour, row.cells["low"], row.cells.get("high", ""))} <= bells, (row.name, score)


def test_the_westminster_hour_is_sixteen_notes_and_then_the_count(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    """Changes two to five of the printed table, then the hour bell."""
    entry = library["melody:westminster"]
    notes = [one["note"] for one in played(melody_scores(entry)["hour"], 4, entry.hour_note)]
    assert notes[:4] == ["E4", "G#4", "F#4", "B3"] and notes[12:16] == ["B3", "F#4", "G#4", "E4"] and notes[16:] == ["E3"] * 4


def test_every_melody_can_be_played(library: Library, played: Callable[..., list[dict[str, Any]]]) -> None:
    for entry in library.of_kind("melody"):
        for score in melody_scores(entry).values():
            at = [one["at"] for one in played(score, 1, entry.hour_note or LOW)]
            assert at and at == sorted(set(at)), entry.id
