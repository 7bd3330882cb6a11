"""Lost wheels and pinions: every whole number that a measured beat, pendulum or centre distance allows.

All sums here are made of + - * / and square roots of floats, so that the page comes to the same last bit.
"""
from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Any

from build_tools.formula.evaluate import Mesh, Train, Value
from build_tools.given import read_counts, read_lost_train
from build_tools.number import NumberError, as_float, fixed

MOST_LOST = 2
FITS, NEAR = 1.0, 3.0
"""An answer fits when no witness is further off than its uncertainty; up to three times that it stands in the table."""
ROWS, NEAREST = 24, 3

Trains = tuple[tuple[Train, int], ...]


@dataclass(frozen=True)
class Candidate:
    """One way to fill the gaps: the whole train, the lost counts, what it gives, and how far off it is at worst, in uncertainties."""
    train: Train
    lost: tuple[int, ...]
    beats: float
    pendulum: float
    distances: tuple[float, ...]
    off: float
    known: int
    same_train: bool

    @property
    def usual(self) -> int:
        """2 when a standard count has the whole train, 1 when standard counts have the pair, else 0."""
        return 2 if self.same_train else int(self.known > 0)

    def __lt__(self, other: Candidate) -> bool:
        return (self.off, sum(self.lost), self.lost) < (other.off, sum(other.lost), other.lost)


def lost_wheel(values: Mapping[str, Value], trains: Trains) -> dict[str, Any]:
    """All answers by how well they fit, with those met in standard counts marked, and whether one of them can be chosen."""
    train = read_lost_train(values["meshes"])
    gaps = [(place, side) for place, mesh in enumerate(train) for side in (0, 1) if mesh[side] == 0]
    if not 1 <= len(gaps) <= MOST_LOST:
        raise NumberError("write ? for the lost count, such as 84/7 ?/7; two at most can be found")
    if "beats" not in values and "pendulum" not in values:
        raise NumberError("give the beats an hour, or the length of the pendulum that belongs to it")
    witness = _Witnesses(values, sorted({place for place, _ in gaps}))
    standard = _Standard(trains)
    found = sorted(witness.weigh(filled, lost, standard) for filled, lost in _filled(train, gaps, values))
    if not found:
        raise NumberError("no counts are left to choose from: widen the limits")
    fits = [each for each in found if each.off <= FITS]
    shown = [each for each in found if each.off <= NEAR][:ROWS] or found[:NEAREST]
    return {
        "lost": _names(fits[:1] or found[:1]),
        "fitting": Fraction(len(fits)),
        "verdict": _verdict(fits, [each for each in shown if FITS < each.off <= NEAR], found[0]),
        "answers": tuple(_row(each) for each in shown),
    }


def _filled(train: Train, gaps: list[tuple[int, int]], values: Mapping[str, Value]) -> Iterator[tuple[Train, tuple[int, ...]]]:
    """The train with every choice of counts in its gaps: wheels where a driver is lost, pinions where a driven one is."""
    ranges = [read_counts(values["pinions" if side else "wheels"]) for _, side in gaps]
    for lost in product(*ranges):
        meshes = [list(mesh) for mesh in train]
        for (place, side), count in zip(gaps, lost):
            meshes[place][side] = count
        yield tuple(Mesh(*mesh) for mesh in meshes), lost


class _Standard:
    """The standard counts: how many have a pair, and which whole trains they are, their meshes in rising order, with the escape wheel."""

    def __init__(self, trains: Trains) -> None:
        self.pairs = Counter(mesh for train, _ in trains for mesh in set(train))
        self.whole = {(tuple(sorted(train)), teeth) for train, teeth in trains}


class _Witnesses:
    """What was measured, and how far off each measurement may be."""

    def __init__(self, values: Mapping[str, Value], places: list[int]) -> None:
        def read(name: str) -> float | None:
            return as_float(values[name]) if name in values else None

        self.escape, self.hours, self.gravity = int(values["escape_teeth"]), as_float(values["hours_per_turn"]), as_float(values["gravity"])
        self.beats, self.pendulum = read("beats"), read("pendulum")
        self.beats_percent, self.pendulum_allowed = read("beats_uncertainty"), read("pendulum_uncertainty")
        self.distance_allowed = read("distance_uncertainty")
        self.places = places
        self.distances = [as_float(each) for each in values.get("distances", ())]
        self.modules = [as_float(each) for each in values.get("modules", ())]
        if self.distances and len(self.modules) == 1:
            self.modules *= len(self.distances)
        if len(self.distances) not in (0, len(places)):
            raise NumberError(f"give one centre distance for each mesh with a gap: {len(places)} here")
        if self.distances and len(self.modules) != len(self.distances):
            raise NumberError("a centre distance needs the module too: take it from the surviving mate")

    def weigh(self, train: Train, lost: tuple[int, ...], standard: _Standard) -> Candidate:
        """What one filled train gives, and its largest miss in uncertainties."""
        beats = 2 * self.escape / self.hours
        for mesh in train:
            beats = beats * mesh.driver / mesh.driven
        time = 3600 / beats
        pendulum = 1000 * self.gravity * time * time / (math.pi * math.pi)
        distances = tuple(module * (train[place].driver + train[place].driven) / 2 for place, module in zip(self.places, self.modules)) if self.distances else ()
        misses = [abs(mine - measured) / self.distance_allowed for mine, measured in zip(distances, self.distances)]
        if self.beats is not None:
            misses.append(abs(beats - self.beats) / (self.beats * self.beats_percent / 100))
        if self.pendulum is not None:
            misses.append(abs(pendulum - self.pendulum) / self.pendulum_allowed)
        known = min(standard.pairs[train[place]] for place in self.places)
        same = (tuple(sorted(train)), self.escape) in standard.whole
        return Candidate(train, lost, beats, pendulum, distances, max(misses), known, same)


def _row(each: Candidate) -> tuple[Any, ...]:
    usual = "the whole train" if each.same_train else f"the pair, {each.known} times" if each.usual else ""
    return (
        " ".join(f"{mesh.driver}/{mesh.driven}" for mesh in each.train), each.beats, each.pendulum,
        ", ".join(fixed(distance, 2) for distance in each.distances) or None, each.off, "yes" if each.off <= FITS else "no", usual,
    )


def _names(found: list[Candidate]) -> str:
    return ", ".join(" and ".join(map(str, each.lost)) for each in found)


def _verdict(fits: list[Candidate], near: list[Candidate], nearest: Candidate) -> str:
    """Whether the measurements choose one answer, in a sentence or two."""
    if not fits:
        return f"Nothing fits; {_names([nearest])} comes nearest. Check the counts that you have and measure again."
    if len(fits) == 1:
        rivals = [each for each in near if each.usual > fits[0].usual][:MOST_LOST]
        doubt = f" But {_names(rivals)} is better known from standard counts and lies just outside: measure again." if rivals else ""
        return f"Only {_names(fits)} fits.{doubt}"
    usual = [each for each in fits if each.usual]
    end = f" Of these only {_names(usual)} is met in standard counts." if len(usual) == 1 else ""
    listed = _names(fits[:6]) + (" and more" if len(fits) > 6 else "")
    return f"{len(fits)} answers fit ({listed}): it cannot be decided between them from this alone.{end} A {'further' if end else 'second'} witness is needed."
