"""The entries as frozen dataclasses, one a kind. Attribute names are the field names of the files.

An absent list is (), absent text "", an absent group of fields None. Numbers that are compared or computed with stay text, as typed.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from functools import cache
from types import UnionType
from typing import Any, Callable, ClassVar, Mapping, get_args, get_origin, get_type_hints

Told = Mapping[str, Mapping[str, str]]
EMPTY: Mapping[str, Any] = {}


def _none() -> Mapping[str, Any]:
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
class Entry:
    """What every kind has. `ref` is "kind:id"."""

    folder: ClassVar[str]
    kind: str
    id: str
    status: str
    replaced_by: str = ""
    see: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""
    basis: tuple[Basis, ...] = ()

    @property
    def ref(self) -> str:
        return f"{self.kind}:{self.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Languages:
    """A word in other languages: `words` by two-letter code."""

    words: Mapping[str, tuple[str, ...]]
    basis: tuple[Basis, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term(Entry):
    word: str
    topic: str
    definition: str
    plural: str = ""
    plain: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    american: tuple[str, ...] = ()
    where: str = ""
    not_to_confuse: tuple[Contrast, ...] = ()
    languages: Languages | None = None

    @property
    def name(self) -> str:
        return self.word


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome(Entry):
    """What the key can arrive at; `told_by` is question reference → answer id → frequency word."""

    name: str
    what: str
    told_by: Told
    commonness: str = ""
    telling: str = ""
    driven: str = ""
    set: str = ""
    goes_wrong: str = ""
    rate: str = ""
    check: tuple[str, ...] = ()
    traps: tuple[str, ...] = ()
    look_alikes: tuple[Contrast, ...] = ()
    counts: tuple[str, ...] = ()
    calculations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Train(Outcome):
    @property
    def facet(self) -> str:
        return "trains"


@dataclass(frozen=True, slots=True, kw_only=True)
class Addon(Outcome):
    driven_by: str = ""

    @property
    def facet(self) -> str:
        return "addons"


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature(Outcome):
    facet: str


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
    with_: Mapping[str, str] = field(default_factory=_none)


@dataclass(frozen=True, slots=True, kw_only=True)
class Count(Entry):
    name: str
    of: str
    arbors: tuple[Arbor, ...]
    partial: bool = False
    gives: tuple[Given, ...] = ()
    used_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    id: str
    says: str
    picture: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Entry):
    asks: str
    how: str
    viewpoints: tuple[str, ...]
    effort: int
    group: str
    answers: tuple[Answer, ...]
    ask_leave: bool = False
    unless_said: Mapping[str, str] = field(default_factory=_none)

    @property
    def name(self) -> str:
        return self.asks


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One choice; `sets` are the numbers that it brings into the formulas, by name."""

    value: str
    label: str
    sets: Mapping[str, str] = field(default_factory=_none)


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    name: str
    label: str
    type: str
    example: str
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    name: str
    label: str
    formula: str
    symbol: str = ""
    unit: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    name: str
    label: str = ""
    decimals: int | None = None
    significant: int | None = None
    unit: str = ""
    also: tuple[str, ...] = ()


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
class Calculation(Entry):
    question: str
    topic: str
    order: int
    what: str
    inputs: tuple[Input, ...]
    results: tuple[Result, ...]
    mistake: str
    limits: str
    steps: tuple[Step, ...] = ()
    procedure: str = ""
    checks: tuple[Example, ...] = ()
    plot: Plot | None = None

    @property
    def name(self) -> str:
        return self.question


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
    cells: Mapping[str, Any] = field(default_factory=_none)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    name: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Constant(Entry):
    name: str
    symbol: str = ""
    value: str = ""
    unit: str = ""
    exactness: str = ""
    uncertainty: str = ""
    columns: tuple[Column, ...] = ()
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bell:
    id: int
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    id: str
    bells: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Melody(Entry):
    """`quarters`: first, second, third and hour → ids of the phrases in order."""

    name: str
    about: str
    bells: tuple[Bell, ...]
    phrases: tuple[Phrase, ...]
    quarters: Mapping[str, tuple[str, ...]]
    rights: str
    hour_note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Entry):
    name: str
    text: str
    why: str
    say_at: str
    owner_stops: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Source(Entry):
    title: str
    edition: str
    type: str
    rights: str
    read: str
    took: str
    places: str
    author: str = ""
    year: int | None = None
    where_read: str = ""

    @property
    def name(self) -> str:
        return f"{self.author}, {self.title}" if self.author else self.title


KINDS: dict[str, type[Entry]] = {
    kind.__name__.lower(): kind
    for kind in (Term, Train, Addon, Feature, Count, Question, Calculation, Constant, Melody, Caution, Source)
}


def entry_from(data: Mapping[str, Any]) -> Entry:
    """The entry of data that has passed its schema."""
    return _build(KINDS[data["kind"]], data)


def _build(cls: type, data: Any) -> Any:
    """An object of `cls`; a Python keyword among the field names (`for`, `with`, `from`) has an underscore behind it."""
    special = _SPECIAL.get(cls)
    if special:
        data = special(data)
    known = _converters(cls)
    return cls(**{known[name][0]: known[name][1](value) for name, value in data.items()})


def _basis(data: Any) -> Mapping[str, Any]:
    return {"word": data} if isinstance(data, str) else data


def _languages(data: Mapping[str, Any]) -> Mapping[str, Any]:
    words = {code: tuple(value) for code, value in data.items() if code not in ("basis", "note")}
    return {"words": words} | {name: data[name] for name in ("basis", "note") if name in data}


def _row(data: Mapping[str, Any]) -> Mapping[str, Any]:
    own = {name: value for name, value in data.items() if name in ROW_COLUMNS}
    return own | {"cells": {name: value for name, value in data.items() if name not in ROW_COLUMNS}}


def _choice(data: Any) -> Mapping[str, Any]:
    return {"value": data, "label": data} if isinstance(data, str) else data


ROW_COLUMNS = ("name", "says", "value", "unit", "symbol", "also", "basis")
_SPECIAL: dict[type, Callable[[Any], Mapping[str, Any]]] = {Basis: _basis, Languages: _languages, Row: _row, Choice: _choice}


@cache
def _converters(cls: type) -> dict[str, tuple[str, Callable[[Any], Any]]]:
    """For each field in the file: the attribute's name, and what turns the file's value into it."""
    hints = get_type_hints(cls)
    return {part.name.rstrip("_"): (part.name, _converter(hints[part.name])) for part in fields(cls)}


def _converter(hint: Any) -> Callable[[Any], Any]:
    if get_origin(hint) is UnionType:
        hint = get_args(hint)[0]
    if get_origin(hint) is tuple:
        inner = _converter(get_args(hint)[0])
        return lambda values: tuple(inner(value) for value in values)
    if get_origin(hint) is not None and issubclass(get_origin(hint), Mapping):
        inner = _converter(get_args(hint)[1])
        return lambda values: {key: inner(value) for key, value in values.items()}
    if hasattr(hint, "__dataclass_fields__"):
        return lambda value: _build(hint, value)
    return str if hint is str else lambda value: value
