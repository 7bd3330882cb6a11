"""A count entry as wheels that mesh: who drives whom, how fast each turns and which way round."""
from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from build_tools.count_pieces import parent
from build_tools.library import Library
from build_tools.model import Count
from build_tools.number import read_number

Address = Callable[[str], str]
"""From the reference of an entry to the address of its page, as seen from the page that shows the figure."""


@dataclass(frozen=True)
class Axle:
    """One arbor; `by` is the place of its driver among the axles, `driven` counts pinion leaves or wheel teeth alike.

    `rate` is in turns an hour, or in turns of the first arbor where no time is given; its sign is the direction, that of the
    arbor that keeps the time being positive.
    """

    name: str
    by: int | None
    driven: int
    leaves: bool
    wheel: int
    escape: int
    pins: int
    contrate: bool
    rate: Fraction


@dataclass(frozen=True)
class Wheelwork:
    """All arbors of a count in the order of its entry; `timed` when the rates are turns an hour."""

    axles: tuple[Axle, ...]
    timed: bool
    concentric: tuple[int, int] | None

    def children(self, index: int) -> Iterator[int]:
        return (place for place, axle in enumerate(self.axles) if axle.by == index)

    def depth(self, index: int) -> int:
        """How many meshes lie between an arbor and the one that drives them all."""
        by = self.axles[index].by
        return 0 if by is None else 1 + self.depth(by)


def wheelwork(count: Count) -> Wheelwork:
    """The wheels of an entry; teeth that it does not give are 0."""
    drivers = [parent(count, arbor) for arbor in count.arbors]
    by = [None if driver is None else count.arbors.index(driver) for driver in drivers]
    timed, rates = _rates(count, by)
    axles = tuple(
        Axle(arbor.name, by[place], arbor.pinion or arbor.driven or 0, bool(arbor.pinion), arbor.wheel or 0, arbor.escape or 0, arbor.pins or 0,
             arbor.contrate, rates[place])
        for place, arbor in enumerate(count.arbors)
    )
    return Wheelwork(axles, timed, (0, 2) if _is_motion_work(count, by) else None)


def _is_motion_work(count: Count, by: list[int | None]) -> bool:
    """Both hands turn on one line: what drives the first and what carries the last are concentric."""
    return count.of == "motion" and by == [None, 0, 1]


def _rates(count: Count, by: list[int | None]) -> tuple[bool, list[Fraction]]:
    relative: dict[int, Fraction] = {}
    for place in _drivers_first(by):
        driver = by[place]
        arbor = count.arbors[place]
        relative[place] = Fraction(1) if driver is None else -relative[driver] * Fraction(count.arbors[driver].wheel or 1, arbor.pinion or arbor.driven or 1)
    base = next((place for place, arbor in enumerate(count.arbors) if arbor.turns_once_in), None)
    if base is None:
        return False, [relative[place] for place in range(len(by))]
    unit = 1 / read_number(count.arbors[base].turns_once_in) / relative[base]
    return True, [relative[place] * unit for place in range(len(by))]


def _drivers_first(by: list[int | None]) -> list[int]:
    done: list[int] = []
    while len(done) < len(by):
        done += [place for place, driver in enumerate(by) if place not in done and (driver is None or driver in done)]
    return done


def term_of(name: str, library: Library) -> str:
    """The reference of the word for an arbor's wheel: "great" leads to great wheel, "fly" to fly; empty when there is none."""
    for words in (f"{name} wheel", name, f"{name} pinion", f"{name} arbor"):
        refs = [ref for ref in library.names.get(words, ()) if ref.startswith("term:")]
        if refs:
            return refs[0]
    return ""


def in_words(work: Wheelwork) -> str:
    """The whole wheelwork as sentences, one for each arbor."""
    return " ".join(sentence(work, axle) for axle in work.axles)


def sentence(work: Wheelwork, axle: Axle) -> str:
    """One arbor in words: what it carries, what drives it, how fast it turns."""
    carries = " and ".join(_carried(axle))
    driver = "" if axle.by is None else f", driven by the {_driver(work.axles[axle.by])}"
    return f"{axle.name[:1].upper()}{axle.name[1:]} arbor: {carries or 'no wheel'}{driver}; {turns(axle, work.timed)}."


def _driver(axle: Axle) -> str:
    return f"single tooth of the {axle.name} arbor" if axle.wheel == 1 else f"{axle.name} wheel of {axle.wheel}"


def _carried(axle: Axle) -> Iterator[str]:
    if axle.driven:
        yield f"a pinion of {axle.driven}" if axle.leaves else f"a driven wheel of {axle.driven}"
    if axle.wheel == 1:
        yield "a single tooth (a finger, a pin or a thread)"
    elif axle.wheel:
        yield f"a contrate wheel of {axle.wheel}" if axle.contrate else f"a wheel of {axle.wheel}"
    if axle.escape:
        yield f"an escape wheel of {axle.escape}"
    if axle.pins:
        yield f"{axle.pins} lifting pins"


def turns(axle: Axle, timed: bool) -> str:
    """How fast an arbor turns, in words."""
    rate = abs(axle.rate)
    each = " an hour" if timed else " for one of the first arbor"
    if timed and 0 < rate < Fraction(1, 2):
        return f"one turn in {_shown(1 / rate)} hours"
    return f"{_shown(rate)} turn{'' if rate == 1 else 's'}{each}"


def _shown(value: Fraction) -> str:
    """Whole where it is whole, else with four figures."""
    if value.denominator == 1:
        return f"{int(value)}"
    places = max(0, 3 - len(str(int(value))) + 1)
    return f"{round(float(value), places):.{places}f}".rstrip("0").rstrip(".") if places else f"{round(float(value))}"
