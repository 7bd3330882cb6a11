"""The wheelwork of a count entry: which arbor drives which, and the pieces that calculations ask for."""
from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from build_tools.formula.evaluate import Mesh, Train, Value
from build_tools.number import read_number

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Count
    from build_tools.model_parts import Arbor

PIECES = frozenset((
    "going_meshes", "barrel_meshes", "strike_meshes", "all_meshes", "escape_teeth", "hours_per_turn", "barrel_turns", "pins", "moons",
    "dial_meshes", *(f"{kind}_meshes" for kind in ("motion", "chime", "moon", "calendar", "tide", "sidereal", "planet", "alarm", "other")),
))
"""What a count can put into an input of a calculation."""
DIALS = ("calendar", "tide", "sidereal", "planet")
"""Kinds of count whose last arbor carries a dial or hand with a period of its own, reckoned from the arbor that is the time base."""


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


@lru_cache(maxsize=8)
def going_trains(library: Library) -> tuple[tuple[Train, int], ...]:
    """The going trains of the count entries: the meshes to the escape wheel, and its teeth."""
    found = (pieces(count) for count in library.of_kind("count") if count.status != "retired")
    return tuple((each["going_meshes"], int(each["escape_teeth"])) for each in found if "going_meshes" in each and "escape_teeth" in each)
