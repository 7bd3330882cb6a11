"""What a count entry puts into calculations, and what the calculations make of it."""
from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

from build_tools.calculate import calculations, evaluate
from build_tools.formula.evaluate import Mesh, Train, Value
from build_tools.number import NumberError, read_number

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation, Count
    from build_tools.model_parts import Arbor

PIECES = frozenset((
    "going_meshes", "barrel_meshes", "strike_meshes", "all_meshes", "escape_teeth", "hours_per_turn", "barrel_turns", "pins", "moons",
    "dial_meshes", *(f"{kind}_meshes" for kind in ("motion", "chime", "moon", "calendar", "tide", "sidereal", "planet", "alarm", "other")),
))
"""What a count can put into an input of a calculation."""
DIALS = ("calendar", "tide", "sidereal", "planet")
"""Kinds of count whose last arbor carries a dial or hand with a period of its own, reckoned from the arbor that is the time base."""


@dataclass(frozen=True)
class CountResult:
    """One figure worked out from a count: which calculation gave it, under which label, as printed."""
    calculation: Calculation
    result: str
    label: str
    value: Value
    shown: str
    unit: str
    also: tuple[tuple[str, str], ...]


def parent(count: Count, arbor: Arbor) -> Arbor | None:
    """The arbor that drives this one."""
    names = {each.name: each for each in count.arbors}
    if arbor.driven_by:
        return names.get(arbor.driven_by)
    for each in count.arbors:
        if each.drives == arbor.name:
            return each
    place = count.arbors.index(arbor)
    return count.arbors[place - 1] if place and (arbor.pinion or arbor.driven) else None


def meshes_between(count: Count, first: Arbor | None, last: Arbor) -> Train | None:
    """The meshes from one arbor (None: the first of its line) to another, drivers over driven; None where there is no way."""
    meshes: list[Mesh] = []
    arbor = last
    while arbor is not first:
        driver = parent(count, arbor)
        if driver is None:
            return tuple(meshes) if first is None else None
        if not driver.wheel or len(meshes) > len(count.arbors):
            return None
        meshes.insert(0, Mesh(driver.wheel, arbor.pinion or arbor.driven))
        arbor = driver
    return tuple(meshes)


def pieces(count: Count) -> dict[str, Value]:
    """What the entry can fill into inputs, by the name of the piece."""
    arbors = count.arbors
    timed = next((arbor for arbor in arbors if arbor.turns_once_in), None)
    barrel = next((arbor for arbor in arbors if arbor.turns), None)
    escape = next((arbor for arbor in arbors if arbor.escape), None)
    pinned = next((arbor for arbor in arbors if arbor.pins), None)
    moon_disc = next((arbor for arbor in arbors if arbor.moons), None)
    found: dict[str, Value | None] = {
        "going_meshes": meshes_between(count, timed, escape) if timed and escape else None,
        "barrel_meshes": meshes_between(count, barrel, timed) if barrel and timed else None,
        "strike_meshes": meshes_between(count, barrel, pinned) if barrel and pinned else None,
        f"{count.of}_meshes" if count.of not in ("going", "strike") else "all_meshes": meshes_between(count, None, arbors[-1]),
        "dial_meshes": meshes_between(count, timed, arbors[-1]) if timed and count.of in DIALS else None,
        "escape_teeth": Fraction(escape.escape) if escape else None,
        "hours_per_turn": read_number(timed.turns_once_in) if timed else None,
        "barrel_turns": read_number(barrel.turns) if barrel else None,
        "pins": Fraction(pinned.pins) if pinned else None,
        "moons": Fraction(moon_disc.moons) if moon_disc else None,
    }
    return {name: value for name, value in found.items() if value not in (None, ())}


def from_count(calculation: Calculation, count: Count, library: Library, further: Mapping[str, str] = MappingProxyType({})) -> dict[str, Value]:
    """The inputs of a calculation that this count fills, by itself or through the results of earlier calculations.

    `further` are inputs, by name, that are known from elsewhere and hold for the earlier calculations too.
    """
    known = pieces(count)
    for earlier in calculations(library):
        if any(field.fill.startswith(f"{earlier.id}.") for field in calculation.inputs):
            known.update(_named_results(earlier, known, library))
    return {field.name: known[field.fill] for field in calculation.inputs if field.fill in known and field.name not in further}


def _named_results(calculation: Calculation, known: Mapping[str, Value], library: Library) -> dict[str, Value]:
    inputs = _filled(calculation, known)
    results = _results(calculation, inputs, library) if inputs else ()
    return {f"{calculation.id}.{each.result}": each.value for each in results}


def _filled(calculation: Calculation, known: Mapping[str, Value]) -> dict[str, Value] | None:
    """All inputs, from what is known and from defaults; None where one stays open or nothing is filled."""
    inputs: dict[str, Value] = {}
    for field in calculation.inputs:
        if field.fill in known:
            inputs[field.name] = known[field.fill]
        elif field.default:
            inputs[field.name] = field.default if field.type == "choice" else read_number(field.default)
        else:
            return None
    return inputs if any(field.fill in known for field in calculation.inputs) else None


def results_for(count: Count, library: Library) -> list[CountResult]:
    """Every figure that the calculations give for a count, in their order.

    An input may be filled by the result of an earlier calculation: `fill: beats-per-hour.beats`.
    """
    found: list[CountResult] = []
    known = pieces(count)
    for calculation in calculations(library):
        inputs = _filled(calculation, known)
        if inputs is None:
            continue
        results = list(_results(calculation, inputs, library))
        known.update({f"{calculation.id}.{each.result}": each.value for each in results})
        found.extend(results)
    return found


def _results(calculation: Calculation, inputs: dict[str, Value], library: Library) -> Iterator[CountResult]:
    try:
        outcome = evaluate(calculation, inputs, library)
    except NumberError:
        return
    labels = {step.name: step.label for step in calculation.steps}
    for name, shown in outcome.shown.items():
        yield CountResult(calculation, name, labels.get(name, name), outcome.values[name], shown, outcome.units[name], outcome.also[name])
