"""The loader reads what the writer meant, or refuses with the place. Expected values are what stands in the text."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from build_tools.load import DEEPEST, LARGEST_FILE, load_file, load_text
from build_tools.loaded import Block, field_name


def data_of(text: str) -> dict:
    loaded = load_text(text, "x.yaml")
    assert loaded.problems == []
    return loaded.data


def codes_of(text: str) -> list[tuple[str, int, int]]:
    return [(problem.code, problem.place.line, problem.place.column) for problem in load_text(text, "x.yaml").problems]


@pytest.mark.parametrize(
    "written",
    [
        "60:8",
        "12:30",
        "010",
        "no",
        "yes",
        "on",
        "off",
        "~",
        "True",
        "NULL",
        "1e3",
        "1_000",
        "0x1F",
        "0o17",
        "+5",
        ".5",
        "5.",
        "2026-01-01",
        "84/7 78/7",
        "1,5",
        "½",
        ".inf",
        ".nan",
        "=",
        "00",
        "-010",
    ],
)
def test_words_that_yaml_takes_for_numbers_dates_and_truths_are_text(written: str) -> None:
    assert data_of(f"a: {written}\n") == {"a": written}


@pytest.mark.parametrize(
    ("written", "value"), [("96", 96), ("0", 0), ("-3", -3), ("true", True), ("false", False), ("null", None), ("", None)]
)
def test_the_plain_values_that_are_not_text(written: str, value: object) -> None:
    found = data_of(f"a: {written}\n")["a"]
    assert found == value and type(found) is type(value)


@pytest.mark.parametrize("written", ["3.10", "0.9970", "29.530588853", "-0.5"])
def test_decimals_keep_their_digits(written: str) -> None:
    found = data_of(f"a: {written}\n")["a"]
    assert isinstance(found, Decimal) and str(found) == written


def test_a_number_of_a_thousand_digits_is_text() -> None:
    assert data_of(f"a: {'9' * 1000}\n")["a"] == "9" * 1000


def test_quotes_make_text() -> None:
    assert data_of("a: '96'\nb: \"true\"\nc: ''\n") == {"a": "96", "b": "true", "c": ""}


def test_a_block_keeps_every_sign() -> None:
    text = data_of('a: >\n  Plate #4: "no" [[term:x]] *and*\n  more # of it.\n')["a"]
    assert text == 'Plate #4: "no" [[term:x]] *and* more # of it.' and isinstance(text, Block)


def test_a_block_with_a_bar_keeps_its_lines() -> None:
    assert data_of("a: |\n  one\n  two\n\n")["a"] == "one\ntwo"


def test_places_of_values_and_names() -> None:
    loaded = load_text("kind: term\ntold_by:\n  question:swing: {long: always}\nanswers:\n  - {id: one, says: ein}\n", "x.yaml")
    assert str(loaded.place("told_by", "question:swing", "long")) == "x.yaml:3:26"
    assert str(loaded.key_place("told_by", "question:swing")) == "x.yaml:3:3"
    assert str(loaded.place("answers", 0, "says")) == "x.yaml:5:21"
    assert str(loaded.place("answers", 0, "picture")) == "x.yaml:5:5"
    assert str(loaded.place("nothing")) == "x.yaml:1:1"


def test_places_count_letters_not_bytes() -> None:
    assert str(load_text("a: {b: ½ ½, c: d}\n", "x.yaml").place("a", "c")) == "x.yaml:1:16"


def test_the_place_of_words_in_a_block() -> None:
    loaded = load_text("a: >\n  first x\n  then x and x\n", "x.yaml")
    assert [str(loaded.place_of_words(("a",), "x", number)) for number in range(4)] == [
        "x.yaml:2:9",
        "x.yaml:3:8",
        "x.yaml:3:14",
        "x.yaml:1:4",
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: 1\na: 2\n", [("KB005", 2, 1)]),
        ("a: {b: 1, b: 2}\n", [("KB005", 1, 11)]),
        ("a: &x 1\nb: *x\n", [("KB006", 1, 4), ("KB006", 2, 4)]),
        ("a: &x [1]\n", [("KB006", 1, 4)]),
        ("&x a: 1\n", [("KB006", 1, 1)]),
        ("a: {<<: {b: 1}}\n", [("KB006", 1, 5)]),
        ("a: !x 1\n", [("KB007", 1, 4)]),
        ("a: !!map {b: 1}\n", [("KB007", 1, 4)]),
        ("a: 1\n---\nb: 1\n", [("KB008", 2, 1)]),
        ("", [("KB008", 1, 1)]),
        ("just words\n", [("KB008", 1, 1)]),
        ("a: text # lost\n", [("KB009", 1, 9)]),
        ("a: > # lost\n  kept # here\n", [("KB009", 1, 6)]),
        ("a: {b: 1} # lost\n", [("KB009", 1, 11)]),
        ("a: # lost\n  b: 1\n", [("KB009", 1, 4)]),
        ("a: 'x'  # lost\nb: 'y # kept'\n", [("KB009", 1, 9)]),
        ("# own line\na: 1\n  # own line # too\nb: 2\n", []),
        ("a: x#y\nb: '#'\n", []),
        ("a: one\n  two\n", [("KB010", 1, 4)]),
        ("a: 'one\n  two'\n", [("KB010", 1, 4)]),
        ("a:\tb\n", [("KB004", 1, 3)]),
        ("a: >\n  b\tc\n", [("KB004", 2, 4)]),
        ("a: " + "[" * (DEEPEST + 1) + "]" * (DEEPEST + 1) + "\n", [("KB011", 1, 3 + DEEPEST)]),
        ("a: " + "[" * 9000 + "\n", [("KB003", 1, 1003)]),
        ("a: x\x07y\n", [("KB003", 1, 5)]),
        ("a: >\n  one\u2028two\n", [("KB003", 2, 6)]),
        ("? [a]\n: 1\n", [("KB011", 1, 3)]),
    ],
)
def test_what_is_refused_and_where(text: str, expected: list[tuple[str, int, int]]) -> None:
    assert sorted(codes_of(text), key=lambda row: row[1:]) == expected


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("a: b: c", "quotes"),
        ("a: [[term:x]] begins", "`>`"),
        ("a: *both* hands", "quotes"),
        ('a: "x" and y', "`>`"),
        ("a: @x", "quotes"),
        ("a: {b: c", "quotes"),
        ("%a: b", "quotes"),
        ("a: 'x", "close the quotes"),
        ("a:\n  - b\n c: d", "equally far in"),
    ],
)
def test_a_broken_line_says_what_to_do(line: str, word: str) -> None:
    problem = load_text(f"{line}\nz: 1\n", "x.yaml").problems[-1]
    assert word in problem.hint and problem.place.line <= 3


def test_files_of_windows_editors_are_read(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes("\ufeffa: 1\r\nb: >\r\n  two\r\n  three\r\n".encode())
    loaded = load_file(path, tmp_path)
    assert loaded.problems == [] and loaded.data == {"a": 1, "b": "two three"} and str(loaded.place("b")) == "a.yaml:2:4"


def test_the_largest_file_is_read_and_a_larger_one_is_not(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: " + b"x" * (LARGEST_FILE - 3))
    assert load_file(path, tmp_path).problems == []
    path.write_bytes(b"a: " + b"x" * (LARGEST_FILE - 2))
    assert [problem.code for problem in load_file(path, tmp_path).problems] == ["KB002"]


def test_field_names_are_those_of_the_contributor() -> None:
    data = {"arbors": [{"name": "great"}, {"name": "centre", "pinion": 8}], "see": ["a", "b"]}
    assert field_name(("arbors", 1, "pinion"), data) == "arbors.centre.pinion"
    assert field_name(("see", 1), data) == "see.2"
    assert field_name(()) == "this file"
