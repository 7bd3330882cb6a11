"""What the checks report: a place, a code, and one thing to do next."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Iterable

CODE_TABLE = Path(__file__).with_name("codes.toml")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a file: path from the project's root with forward slashes; line and column count from 1."""

    path: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong: `field` in the contributor's words, `what` was found and wanted, `hint` the one next action."""

    code: str
    place: Place
    field: str
    what: str
    hint: str


@dataclass(frozen=True, slots=True)
class Code:
    """What a code means, for ever; `wrong` and `right` are lines of an entry."""

    title: str
    explanation: str
    wrong: str = ""
    right: str = ""


@cache
def codes() -> dict[str, Code]:
    """Every code with its meaning, read once from codes.toml, in order."""
    table = tomllib.loads(CODE_TABLE.read_text(encoding="utf-8"))
    return {name: Code(**{part: text.strip() for part, text in row.items()}) for name, row in sorted(table.items())}


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """The problems by file, line, column and code, each once."""
    return sorted(set(problems), key=lambda problem: (problem.place, problem.code, problem.field, problem.what))


def did_you_mean(found: str, known: Iterable[str], otherwise: str) -> str:
    """A hint that names the one known word close to `found`, or else the hint `otherwise`."""
    close = get_close_matches(
        found, list(known), n=1, cutoff=0.72 if len(found) <= 6 else 0.8
    )  # two letters of a short word changed places
    return f"did you mean {close[0]}?" if close else otherwise
