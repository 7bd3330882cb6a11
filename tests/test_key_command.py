"""The command `key`: what it prints, and what it says to words that it doesn't know."""
from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from build_tools import key_command
from build_tools.checks.key import TABLES
from build_tools.commandline import main
from build_tools.key_answers import read_answers
from build_tools.library import Library, read_library
from tests.knowledge import read_once


@pytest.fixture(autouse=True)
def one_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    """The command reads the knowledge base once for all tests, or that would be nearly all of their time."""
    monkeypatch.setattr(key_command, "read_library", read_once)


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Exit status, output and complaint."""
    status = main(["key", *words])
    out, err = capsys.readouterr()
    return status, out, err


def test_a_program_reads_what_was_not_understood(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = said(capsys, "no-such-facet", "--json")
    assert status == 2 and json.loads(out)["error"] == err.strip()


def found(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    status, out, err = said(capsys, *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def test_ranked_outcomes_with_reasons_and_the_next_question(capsys: pytest.CaptureFixture[str]) -> None:
    data = found(capsys, "trains", "winding-holes=two", "hour-sound=silent", "--viewpoint", "dial-shut")
    assert sum(one["share"] for one in data["ranked"]) == pytest.approx(1.0, rel=1e-12)
    assert [one["share"] for one in data["ranked"]] == sorted((one["share"] for one in data["ranked"]), reverse=True)
    assert data["not_ruled_out"] + data["ruled_out"] == [one["ref"] for one in data["ranked"]]
    first = data["ranked"][0]
    assert first["words"] in ("very likely", "likely", "possible") and first["for"] and first["for"][0]["text"]
    assert {"dial-shut", "ear"} & set(data["next_question"]["viewpoints"])
    assert data["next_question"]["answers"][-1]["id"] == "cant-tell"
    assert data["next_question"]["id"] not in data["answers"]


@pytest.mark.parametrize(
    "typed", ["winding-holes=two", "question:winding-holes=two", "winding-holes=TWO", "winding-holes=2"], ids=["id", "reference", "capitals", "figure"]
)
def test_accepted_spellings(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert found(capsys, "trains", typed)["answers"] == {"winding-holes": "two"}


def test_an_answer_may_be_typed_in_its_own_words(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    says = next(answer.says for answer in library["question:winding-holes"].answers if answer.id == "none")
    assert found(capsys, "trains", f"winding-holes={says}")["answers"] == {"winding-holes": "none"}


@pytest.mark.parametrize(
    ("typed", "answer"),
    [("winding-holes=2", "two"), ("winding holes = No", "none"), ("Winding-Holes=4+", "four-plus"), ("weights=3 or more", "three"),
     ("hour sound=Count one note", "count-one-note"), ("hour_sound=the hours on one note.", "count-one-note")],
)
def test_an_answer_may_be_typed_as_one_writes(typed: str, answer: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert list(found(capsys, "trains", typed)["answers"].values()) == [answer]


def test_numbers_may_stand_anywhere(capsys: pytest.CaptureFixture[str]) -> None:
    last = found(capsys, "trains", "case-form=mantel", "weights=none", "--measured", "holes=2")
    assert found(capsys, "trains", "--measured", "holes=2", "case-form=mantel", "weights=none") == last
    assert last["answers"] == {"winding-holes": "two", "case-form": "mantel", "weights": "none"}


@pytest.mark.parametrize("typed", ["cant-tell", "can't tell", "?"])
def test_cant_tell_is_always_an_answer(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    told, untold = found(capsys, "trains", f"hour-sound={typed}"), found(capsys, "trains")
    assert told["answers"] == {"hour-sound": "cant-tell"}
    assert [one["share"] for one in told["ranked"]] == [one["share"] for one in untold["ranked"]]


def test_the_same_answer_twice_is_one_answer(capsys: pytest.CaptureFixture[str]) -> None:
    assert found(capsys, "trains", "winding-holes=two", "winding-holes=2")["answers"] == {"winding-holes": "two"}


def test_a_question_of_another_facet_is_named_as_unused(capsys: pytest.CaptureFixture[str]) -> None:
    assert found(capsys, "drive", "moon-look=none")["not_used"] == ["moon-look"]


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["train"], "did you mean trains?"),
        (["nonsense"], "they are trains, drive"),
        ([], "one of trains, drive"),
        (["trains", "winding-hols=two"], "did you mean winding-holes?"),
        (["trains", "winding-holes=tree"], "did you mean three?"),
        (["trains", "winding-holes=red"], "the answers are none (no hole); one (one); two (two); three (three); four-plus (four or more); cant-tell"),
        (["trains", "holes=two"], "those nearest are escapement-holes, holes-meet-dial, spare-holes, squares-in-holes, winding-holes"),
        (["trains", "winding-holes=two", "winding-holes=one"], "answered twice, with two and with one"),
        (["trains", "winding-holes"], "write question=answer"),
        (["trains", "--viewpoint", "bak"], "did you mean back?"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_what_is_not_understood_gets_one_line(words: list[str], complaint: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = said(capsys, *words)
    assert (status, out) == (2, "")
    assert complaint in err and err.count("\n") == 1


def test_nothing_fits_is_said_with_status_1(capsys: pytest.CaptureFixture[str]) -> None:
    answers = ["hour-sound=ship-pairs", "swing=turning-pendulum", "weights=three", "flies=three", "bird-doors=two", "clock-moves=travels"]
    status, out, _ = said(capsys, "trains", *answers)
    assert status == 1 and out.startswith("None of the outcomes fits")


def test_text_names_the_likely_ones_with_their_reasons(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = said(capsys, "trains", "swing=turning-pendulum", "run-length=months-or-year")
    assert status == 0 and out.startswith("Very likely: torsion clock") and "  for " in out


def test_the_list_is_enough_to_call_the_key_from(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    listed = found(capsys, "--list")
    assert [facet["id"] for facet in listed["facets"]] == [row.name for row in library.table("facets")]
    assert [place["id"] for place in listed["viewpoints"]] == [row.name for row in library.table("viewpoints")]
    questions = {question["id"]: question for question in listed["questions"]}
    for facet in listed["facets"]:
        assert len(facet["outcomes"]) == len(library.outcomes(facet["id"]))
        assert set(facet["questions"]) <= set(questions)
        assert all(set(seen) <= set(facet["questions"]) for seen in facet["questions_from"].values())
    assert all(question["answers"][-1]["id"] == "cant-tell" for question in listed["questions"])


def test_every_spelling_of_the_list_is_accepted(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    for question in found(capsys, "--list")["questions"]:
        for answer in question["answers"]:
            typed = [f"{question['id']}={spelling}" for spelling in answer["spellings"]]
            assert read_answers(library, typed) == {question["id"]: answer["id"]}


@pytest.mark.parametrize("table", TABLES)
def test_a_table_that_cannot_be_used_is_named_with_its_line(table: str, root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copytree(root / "kb" / "constants", tmp_path / "kb" / "constants")
    broken = tmp_path / "kb" / "constants" / f"{table}.yaml"
    broken.write_text(broken.read_text(encoding="utf-8").replace("name: ", "naem: ", 1), encoding="utf-8")
    monkeypatch.setattr(key_command, "read_library", lambda: read_library(tmp_path))
    status, out, err = said(capsys, "trains", "winding-holes=two")
    assert (status, out) == (1, "")
    assert err.startswith(f"kb/constants/{table}.yaml:5:1: KB014 naem") and "Traceback" not in err
