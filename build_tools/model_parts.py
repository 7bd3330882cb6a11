"""The parts of which entries are made, as frozen dataclasses. Attribute names are the field names of the files.

An absent list is (), absent text "", an absent group of fields None. Numbers that are compared or computed with stay text, as typed.
A field called like a word of Python (`for`, `with`, `from`) has an underscore behind it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Mapping

EMPTY: Mapping[str, Any] = {}
ROW_COLUMNS = ("name", "says", "value", "unit", "symbol", "also", "basis")  # those that every table may have


def nothing() -> Mapping[str, Any]:
    """The value of an absent group whose names are free."""
    return EMPTY


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """Where a fact comes from. `word`: common practice, memory, invented, arithmetic, or source (then with source and place)."""

    word: str = "source"
    source: str = ""
    place: str = ""
    for_: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contrast:
    """Another entry that this one is mistaken for, and how to tell them apart."""

    with_: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Languages:
    """A word in other languages: `words` by two-letter code."""

    words: Mapping[str, tuple[str, ...]]
    basis: tuple[Basis, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arbor:
    """One arbor; teeth and leaves are whole numbers, `turns` and `turns_once_in` (hours) text."""

    name: str
    pinion: int | None = None
    driven: int | None = None
    wheel: int | None = None
    escape: int | None = None
    pins: int | None = None
    moons: int | None = None
    contrate: bool = False
    turns_once_in: str = ""
    turns: str = ""
    driven_by: str = ""
    drives: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A published figure: `printed` word for word, `value` to compare with."""

    printed: str
    value: str
    tolerance: str = ""
    because: str = ""
    verdict: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Given(Figure):
    """A published figure that the counts of an entry must give."""

    calculation: str
    result: str
    source: str
    place: str
    with_: Mapping[str, str] = field(default_factory=nothing)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    id: str
    says: str
    picture: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One choice; `sets` are the numbers that it brings into the formulas, by name."""

    value: str
    label: str
    sets: Mapping[str, str] = field(default_factory=nothing)


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    name: str
    label: str
    type: str
    example: str = ""
    symbol: str = ""
    unit: str = ""
    also: tuple[str, ...] = ()
    minimum: str = ""
    maximum: str = ""
    usual: tuple[str, ...] = ()
    default: str = ""
    why: str = ""
    choices: tuple[Choice, ...] = ()
    fill: str = ""
    optional: bool = False
    measured: bool = False
    compass: str = ""
    gains: bool = False
    of_day: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    name: str
    label: str
    formula: str
    symbol: str = ""
    unit: str = ""
    why: str = ""
    impossible_if: str = ""
    impossible: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    name: str
    label: str = ""
    decimals: int | None = None
    significant: int | None = None
    unit: str = ""
    also: tuple[str, ...] = ()
    columns: tuple[Result, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """A published example: inputs by name, and the published results by name."""

    given: Mapping[str, str]
    expect: Mapping[str, Figure]
    source: str
    place: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    across: str
    up: str
    from_: str = ""
    to: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tapped:
    """The inputs that tapping along fills, and the results that standard counts are compared with."""

    count: str
    time: str
    beats: str
    error: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a table; `cells` holds the columns that only this table has."""

    name: str
    says: str = ""
    value: str = ""
    unit: str = ""
    symbol: str = ""
    also: tuple[str, ...] = ()
    basis: tuple[Basis, ...] = ()
    cells: Mapping[str, Any] = field(default_factory=nothing)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    name: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bell:
    id: int
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    id: str
    bells: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlatePart:
    """A named part of a drawing: its shapes as text, and the two points "x y" of its label's line."""

    of: str
    says: str = ""
    at: str = ""
    label: str = ""
    anchor: str = "start"
    draw: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """One step of something done by hand, with the cautions that stand in front of it."""

    do: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """A part of a sheet: text and steps to read, `blanks` and a table to fill in; `answers` are questions of the key."""

    title: str
    text: str = ""
    cautions: tuple[str, ...] = ()
    steps: tuple[Doing, ...] = ()
    blanks: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    new_side: bool = False
    columns: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    empty_rows: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonPart:
    title: str
    text: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """Questions of one kind, made from the entries `of`; `by` are the questions of the key whose answers are used."""

    kind: str
    of: tuple[str, ...]
    by: tuple[str, ...] = ()
