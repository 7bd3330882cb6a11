"""Whatever someone types, the checks answer in sentences: entries spoilt at random never end in an error of the program."""

from __future__ import annotations

import random

import pytest

from build_tools.checks import run_checks
from build_tools.library import PROJECT, Library, judged
from build_tools.load import load_text, read_carefully
from build_tools.load_plain import plain_data

ENTRIES = sorted((PROJECT / "kb").glob("*/*.yaml"))
SIGNS = [
    ": ",
    " #",
    "[[",
    "]]",
    "|",
    ">",
    "\n",
    "  ",
    "- ",
    "{",
    "}",
    "[",
    "]",
    '"',
    "'",
    "*",
    "&",
    "!",
    "null",
    "60:8",
    "? ",
    "---\n",
    "\t",
    "%",
    "...",
    "<<: ",
    "é",
    "\u2028",
    "\r",
]
NOT_FOR_PEOPLE = ("NoneType", "None", "<class", "{'", "['", "Traceback", "Error(")


def spoilt(text: str, chance: random.Random) -> str:
    """The text with a sign put in, some letters taken out, or a line left out or doubled, up to three times."""
    for _ in range(chance.randint(1, 3)):
        at, lines = chance.randrange(len(text) + 1), text.split("\n")
        line = chance.randrange(len(lines))
        text = chance.choice(
            [
                text[:at] + chance.choice(SIGNS) + text[at:],
                text[:at] + text[at + chance.randint(1, 30) :],
                "\n".join(lines[:line] + lines[line + 1 :]),
                "\n".join(lines[:line] + [chance.choice(lines)] + lines[line:]),
            ]
        )
    return text


@pytest.mark.parametrize("seed", range(8))
def test_spoilt_entries_are_answered_in_sentences(seed: int) -> None:
    chance, refused = random.Random(seed), 0
    for path in chance.sample(ENTRIES, 40):
        loaded = load_text(spoilt(path.read_text(encoding="utf-8"), chance), path.relative_to(PROJECT).as_posix())
        problems, whole = judged(loaded)
        problems = run_checks(Library([loaded] if whole else []), problems)
        refused += not whole
        for problem in problems:
            assert problem.what and problem.hint and problem.field and problem.place.line >= 1 and problem.place.column >= 1
            assert not [word for word in NOT_FOR_PEOPLE if word in problem.what or word in problem.hint]
        assert whole or problems
    assert refused > 5


def with_types(value: object) -> object:
    """The value with the type of everything in it: 1 and true are equal, and so are a block and a line."""
    if isinstance(value, dict):
        return {name: with_types(inner) for name, inner in value.items()}
    return [with_types(inner) for inner in value] if isinstance(value, list) else (type(value), value)


@pytest.mark.parametrize("seed", range(4))
def test_the_quick_reading_gives_what_the_careful_one_gives_or_nothing(seed: int) -> None:
    chance, unusual = random.Random(seed), 0
    for number, path in enumerate(ENTRIES[seed::4]):
        text = path.read_text(encoding="utf-8")
        text = spoilt(text, chance) if number % 2 else text
        quick, careful = plain_data(text), read_carefully(text, "x.yaml")
        unusual += quick is None
        if quick is not None:
            assert {problem.code for problem in careful.problems} <= {"KB009"}, path  # comments are the loader's own business
            assert with_types(quick) == with_types(careful.data), path
        else:
            assert number % 2, f"{path.name} is not read quickly"
    assert unusual > 20
