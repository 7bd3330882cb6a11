"""Evidence by number: which standard counts fit what was counted or measured, and which numbers contradict each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from build_tools.answer import NoAnswer, answer
from build_tools.calculate import units_of
from build_tools.counts import results_for
from build_tools.given import GivenError, read_quantity
from build_tools.key_answers import Unclear
from build_tools.number import NumberError, compact
from build_tools.problem import did_you_mean

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Count
    from build_tools.model_parts import Row

EXAMPLES = {"mm": "250 or '10 in'", "s": "60 or '1 min'", "d": "8 or '30 h'"}
PENDULUM, TICKS, LENGTH = "pendulum", "ticks", "pendulum-from-beats"


@dataclass(frozen=True)
class Met:
    """A standard count beside the numbers: which fit, which contradict it, and how far off those that fit are on average."""

    count: Count
    fits: tuple[str, ...]
    against: tuple[str, ...]
    off: float


@dataclass(frozen=True)
class Judged:
    """What the numbers say: counts that fit all or contradict some, a sentence where two numbers can't belong together, answers for the key."""

    fitting: tuple[Met, ...]
    contradicted: tuple[Met, ...]
    together: str
    belong: bool
    answers: Mapping[str, str]


def read_numbers(library: Library, typed: Iterable[str]) -> dict[str, Fraction]:
    """Row of constant:measured → the number in its unit, from words such as ``ticks=60`` or ``pendulum=10 in``."""
    rows = {row.name: row for row in library.table("measured")}
    numbers: dict[str, Fraction] = {}
    for words in typed:
        name, sign, text = words.partition("=")
        if not sign:
            raise Unclear(f"{words!r} is no number: write name=number, such as ticks=60; there are {', '.join(rows)}")
        if name not in rows:
            raise Unclear(f"Nothing called {name!r} is counted here: {did_you_mean(name, list(rows), 'there are ' + ', '.join(rows))}")
        if name in numbers:
            raise Unclear(f"{name} is given twice: keep one of them.")
        numbers[name] = _number(rows[name], text, library)
    return numbers


def _number(row: Row, text: str, library: Library) -> Fraction:
    try:
        value = Fraction(read_quantity(text.strip(), row.unit, units_of(library))[0])
    except (NumberError, GivenError):
        example = f"a number in {row.unit} or with its unit behind it, such as {EXAMPLES.get(row.unit, '')}" if row.unit else "a plain number, such as 3"
        raise Unclear(f"{row.name}: {text.strip()!r} is not a number that can be read here; write {example}.") from None
    if value < 0 or (row.value and value == 0 and row.name != TICKS):
        raise Unclear(f"{row.name}: {text.strip()} is too small.")
    return value


@lru_cache(maxsize=4)
def standard_figures(library: Library) -> tuple[tuple[Count, Mapping[str, float]], ...]:
    """Every going count with its figures, by the row of constant:measured."""
    names = {row.cells["figure"]: row.name for row in _compared(library)}
    going = (count for count in library.of_kind("count") if count.of == "going" and count.status != "retired")
    return tuple((count, {names[name]: value for name, value in _figures(count, library) if name in names}) for count in going)


def _figures(count: Count, library: Library) -> Iterator[tuple[str, float]]:
    """The numbers that the calculations give for a count, as calculation.result."""
    for each in results_for(count, library):
        if isinstance(each.value, (Fraction, float)):
            yield f"{each.calculation.id}.{each.result}", float(each.value)


def _compared(library: Library) -> list[Row]:
    return [row for row in library.table("measured") if row.value]


def judge(library: Library, numbers: Mapping[str, Fraction]) -> Judged:
    """What the numbers say together."""
    rows = {row.name: row for row in _compared(library)}
    measured = {name: float(value * Fraction(rows[name].cells["times"])) for name, value in numbers.items() if name in rows and value}
    allowed = {name: float(row.value) for name, row in rows.items()}
    met = [meet(count, figures, measured, allowed) for count, figures in standard_figures(library)] if measured else []
    met = sorted((one for one in met if one.fits), key=lambda one: (len(one.against), -len(one.fits), one.off, one.count.id))
    belong, together = _together(library, measured, allowed)
    fitting = [one for one in met if not one.against and len(one.fits) == max(len(other.fits) for other in met)]
    return Judged(tuple(fitting), tuple(one for one in met if one.against), together, belong, answers_for(library, numbers))


def meet(count: Count, figures: Mapping[str, float], measured: Mapping[str, float], allowed: Mapping[str, float]) -> Met:
    """One count beside the numbers; what the count has no figure for says nothing."""
    off = {name: abs(value / figures[name] - 1.0) for name, value in measured.items() if name in figures}
    fits = tuple(name for name in off if off[name] <= allowed[name])
    mean = sum(off[name] for name in fits) / len(fits) if fits else 0.0
    return Met(count, fits, tuple(name for name in off if off[name] > allowed[name]), mean)


def _together(library: Library, measured: Mapping[str, float], allowed: Mapping[str, float]) -> tuple[bool, str]:
    """Whether pendulum and ticks can belong together, in a sentence; "" while one of them is missing."""
    if not {PENDULUM, TICKS} <= set(measured):
        return True, ""
    try:
        wanted = answer(library[f"calculation:{LENGTH}"], {"beats": f"{compact(measured[TICKS], 9)} /min"}, library).outcome
    except (GivenError, NoAnswer):
        return True, ""
    length = float(wanted.values["length"])
    # a length follows the square of the beat, so a slip in the ticks counts twice
    belong = abs(measured[PENDULUM] / length - 1.0) <= allowed[PENDULUM] + 2.0 * allowed[TICKS]
    return belong, sentence(f"{measured[TICKS]:.0f}", f"{length:.0f}", f"{measured[PENDULUM]:.0f}", belong)


def sentence(ticks: str, wanted: str, found: str, belong: bool) -> str:
    """Ticks a minute against the pendulum, lengths in mm."""
    said = f"{ticks} ticks a minute want a pendulum of about {wanted} mm, and {found} mm were measured: "
    return said + ("they can belong together." if belong else
                   "they don't belong together. Measure again; if it stays so, movement and pendulum were not made for one another.")


def answers_for(library: Library, numbers: Mapping[str, Fraction]) -> dict[str, str]:
    """The answers of the key that the numbers stand for; what two numbers answer differently is left open."""
    found = [(row.cells["question"], row.cells["answer"]) for row in library.table("measured-answers")
             if row.cells["measured"] in numbers and _within(numbers[row.cells["measured"]], row)]
    return {question: said for question, said in found if sum(question == other for other, _ in found) == 1}


def _within(number: Fraction, row: Row) -> bool:
    return Fraction(row.cells["from"]) <= number <= Fraction(row.cells["to"])


def as_text(judged: Judged, names: Sequence[str]) -> str:
    """For a terminal."""
    lines = [judged.together] if judged.together else []
    lines += [f"Fits: {one.count.name} ({one.count.ref}): {', '.join(one.fits)}" for one in judged.fitting]
    if not judged.fitting and names:
        lines.append("No standard count fits all of this.")
    lines += [f"Contradicted by {', '.join(one.against)}: {one.count.name} ({one.count.ref})" for one in judged.contradicted[:5]]
    lines += ["For the key: " + " ".join(f"{question}={said}" for question, said in judged.answers.items())] if judged.answers else []
    return "\n".join(lines)


def as_data(judged: Judged) -> dict[str, object]:
    """For JSON."""
    def met(one: Met) -> dict[str, object]:
        return {"ref": one.count.ref, "name": one.count.name, "fits": list(one.fits), "against": list(one.against)}
    return {"belong_together": judged.belong, "together": judged.together, "fitting": [met(one) for one in judged.fitting],
            "contradicted": [met(one) for one in judged.contradicted], "answers": dict(judged.answers)}
