"""The entries as frozen dataclasses, one a kind. Attribute names are the field names of the files; absent ones as in model_parts."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Mapping

from build_tools.model_parts import Answer, Arbor, Ask, Basis, Bell, Column, Contrast, Doing, Example, Given, Input, Languages
from build_tools.model_parts import LessonPart, Phrase, PlatePart, Plot, Result, Row, SheetPart, Step, Tapped, nothing

Told = Mapping[str, Mapping[str, str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What every kind has. `ref` is "kind:id"; `asked` are words that people type who want it."""

    kind: str
    id: str
    status: str
    replaced_by: str = ""
    asked: tuple[str, ...] = ()
    see: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""
    basis: tuple[Basis, ...] = ()

    @property
    def ref(self) -> str:
        return f"{self.kind}:{self.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Term(Entry):
    word: str
    topic: str
    definition: str
    plural: str = ""
    plain: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    american: tuple[str, ...] = ()
    linked: bool = True
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
class Symptom(Outcome):
    facet: str
    looks: tuple[str, ...]
    stop: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Count(Entry):
    name: str
    of: str
    arbors: tuple[Arbor, ...]
    partial: bool = False
    gives: tuple[Given, ...] = ()
    used_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Entry):
    asks: str
    how: str
    viewpoints: tuple[str, ...]
    effort: int
    group: str
    answers: tuple[Answer, ...]
    answered_by: str = ""
    unseen: tuple[str, ...] = ()
    ask_leave: bool = False
    mentioned: str = ""
    unless_said: Mapping[str, str] = field(default_factory=nothing)
    needless_after: Mapping[str, tuple[str, ...]] = field(default_factory=nothing)

    @property
    def name(self) -> str:
        return self.asks


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
    constants: Mapping[str, str] = field(default_factory=nothing)
    plot: Plot | None = None
    tapped: Tapped | None = None

    @property
    def name(self) -> str:
        return self.question


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
class Saying(Entry):
    """Something people repeat; `verdict` is right, wrong or depends."""

    saying: str
    verdict: str
    fails: str
    why: str
    holds: str = ""
    also: tuple[str, ...] = ()
    calculations: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        return self.saying


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Entry):
    """How something is counted or measured, and how far that is usually out."""

    name: str
    order: int
    what: str
    need: str
    steps: tuple[Doing, ...]
    error: str
    mistake: str = ""
    example: str = ""
    calculations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet(Entry):
    """A paper of one sheet; `group` is the pile that it belongs to."""

    name: str
    group: str
    order: int
    what: str
    parts: tuple[SheetPart, ...]
    of: tuple[str, ...] = ()
    calculations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate(Entry):
    """A drawing whose parts are named, 328 wide and `height` high."""

    name: str
    order: int
    about: str
    height: int
    parts: tuple[PlatePart, ...]
    behind: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson(Entry):
    """A handout with questions that are made from the entries named in `asks`."""

    name: str
    order: int
    for_: str
    aim: str
    bring: str
    parts: tuple[LessonPart, ...]
    asks: tuple[Ask, ...]
    together: str = ""


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
    for kind in (Term, Train, Addon, Feature, Symptom, Count, Question, Calculation, Constant, Melody, Saying, Measure, Sheet, Plate, Lesson, Caution, Source)
}
