"""How sure the key is beside how often it is right, on simulated clocks that are not the key's own.

Run it by hand: .venv/bin/python tests/benchmarks/key_calibration.py [--fit]. In each world every kind is a mixture of makes
with habits of their own, kinds are up to twice as common or as rare as the key believes, one clock in ten has signs
of another kind in one group, and 3 to 15 answers in a hundred are mistakes. Worlds for fitting and worlds for showing are
different ones. A session puts six questions, as the key does; what it then says is counted.
Without --fit it writes docs/how-sure.md.
"""
from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]

import numpy as np  # noqa: E402
from key_arrays import Arrays, Floats, States, leaders  # noqa: E402
from numpy.typing import NDArray  # noqa: E402

from build_tools.key import Key  # noqa: E402
from build_tools.key_answers import facets  # noqa: E402
from build_tools.library import Library, read_library  # noqa: E402

MOST, MAKES, ALTERED, CLOCKS = 6, 3, 0.1, 60
HABIT = 2.0
"""How little a make sticks to one way: the weight of the kind's shares in the Dirichlet draw of its habits."""
FITTED, SHOWN = range(100, 104), range(200, 206)
BINS = np.array([0.0, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.000001])

PAGE = ROOT / "docs" / "how-sure.md"

Session = tuple[States, NDArray[np.int64]]


def sessions(arrays: Arrays, world: int) -> Session:
    """The answers of one world's visitors after six questions each, and what their clocks truly are."""
    chance = np.random.default_rng([world, sum(map(ord, arrays.facet.name + arrays.viewpoint))])
    common = np.exp(arrays.priors) * 2.0 ** chance.uniform(-1, 1, arrays.outcomes)
    truth = chance.choice(arrays.outcomes, CLOCKS, p=common / common.sum())
    seen = _signs(arrays, chance, truth)
    states = arrays.nothing_asked(CLOCKS)
    for _ in range(MOST):
        shares = arrays.posterior(states)
        following = np.where(arrays.settled(states, shares), -1, arrays.next_questions(states, shares))
        asking = np.flatnonzero(following >= 0)
        states[asking, following[asking]] = seen[asking, following[asking]]
    return states, truth


def _signs(arrays: Arrays, chance: np.random.Generator, truth: NDArray[np.int64]) -> States:
    """What each clock's visitor would answer to every question."""
    make = truth * MAKES + chance.choice(MAKES, len(truth), p=chance.dirichlet(np.ones(MAKES)))
    other = chance.integers(arrays.outcomes * MAKES, size=len(truth))
    altered = np.where(chance.random(len(truth)) < ALTERED, chance.integers(len(arrays.groups), size=len(truth)), -1)
    mistakes = chance.uniform(0.03, 0.15)
    seen = arrays.nothing_asked(len(truth))
    slips = arrays.needs.mistakes
    for place, count in enumerate(arrays.answers):
        shown = (arrays.shares[place].T - slips / count) / (1.0 - slips)
        habits = np.array([chance.dirichlet(np.maximum(HABIT * row, 1e-3)) for row in np.repeat(shown, MAKES, axis=0)])
        of = np.where(altered == arrays.group[place], other, make)
        said = np.array([chance.choice(count, p=habits[one] / habits[one].sum()) for one in of])
        said = np.where(chance.random(len(truth)) < mistakes, chance.integers(count, size=len(truth)), said)
        seen[:, place] = np.where(chance.random(len(truth)) < arrays.unsure[place], count, said)
    return seen


def everywhere(library: Library) -> Iterator[Arrays]:
    for row in facets(library):
        key = Key(library, row.name)
        for place in library.table("viewpoints"):
            arrays = Arrays(key, place.name)
            if len(arrays.questions) > 2:
                yield arrays


def sure_and_right(arrays: Arrays, states: States, truth: NDArray[np.int64]) -> Floats:
    """Rows: the share that is said of the leading outcome, and whether it is the true one."""
    shares = arrays.posterior(states)
    first = leaders(shares)
    return np.column_stack([arrays.said(shares[np.arange(len(first)), first]), first == truth])


def table(found: Floats) -> list[tuple[int, float, float]]:
    """For each bin how many sessions, how sure on average, how often right."""
    bins = np.digitize(found[:, 0], BINS) - 1
    return [(int((bins == one).sum()), *found[bins == one].mean(axis=0)) for one in range(len(BINS) - 1) if (bins == one).any()]


def apart(found: Floats) -> float:
    """How far sure and right are apart on average, by bins."""
    return sum(count * abs(sure - right) for count, sure, right in table(found)) / len(found)


def fit(library: Library) -> None:
    """Prints how far sure and right are apart for several dampings, the answers being the same."""
    runs = [(arrays, *sessions(arrays, world)) for arrays in everywhere(library) for world in FITTED]
    for damping in (0.0, 0.15, 0.3, 0.6, 1.0):
        joined = np.vstack([_with_damping(arrays, damping, states, truth) for arrays, states, truth in runs])
        print(f"damping {damping}: {apart(joined):.3f} apart; sure {joined[:, 0].mean():.3f}, right {joined[:, 1].mean():.3f}", flush=True)


def _with_damping(arrays: Arrays, damping: float, states: States, truth: NDArray[np.int64]) -> Floats:
    arrays.needs = replace(arrays.needs, damping=damping)
    return sure_and_right(arrays, states, truth)


def show(library: Library) -> None:
    """Measures on worlds that nothing was fitted on, and writes the page with the plot and its table."""
    found, facets_apart = [], []
    for arrays in everywhere(library):
        here = np.vstack([sure_and_right(arrays, *sessions(arrays, world)) for world in SHOWN])
        found.append(here)
        facets_apart.append((arrays.facet.name, here))
    joined = np.vstack(found)
    names = dict.fromkeys(name for name, _ in facets_apart)
    by_facet = {name: apart(np.vstack([here for facet, here in facets_apart if facet == name])) for name in names}
    PAGE.write_text(page(joined, by_facet, {row.name: row.cells["label"] for row in facets(library)}), encoding="utf-8")
    print(f"{apart(joined):.3f} apart over {len(joined)} sessions, greatest share said {joined[:, 0].max():.3f}; by facet:", by_facet)


def page(found: Floats, by_facet: dict[str, float], labels: dict[str, str]) -> str:
    """Markdown with the plot, the same as a table, and how it was measured."""
    rows = "\n".join(f"| {count} | {sure:.0%} | {right:.0%} |" for count, sure, right in table(found))
    facet_rows = "\n".join(f"| {labels[name]} | {100 * value:.1f} |" for name, value in by_facet.items())
    return TEXT.format(plot=plot(found), rows=rows, facets=facet_rows, apart=100 * apart(found), sessions=len(found),
                       most=found[:, 0].max(), worlds=len(SHOWN), makes=MAKES)


def plot(found: Floats) -> str:
    """How often right (upwards) against how sure (to the right), a ring a bin, its size by the number of sessions."""
    def at(share: float) -> float:
        return round(280 * share, 1)
    rings = "".join(f'<circle cx="{40 + at(sure)}" cy="{300 - at(right)}" r="{3 + 14 * (count / len(found)) ** 0.5:.1f}"/>'
                    for count, sure, right in table(found))
    grid = "".join(f'<path class="hair" d="M{40 + at(one)} 20V300M40 {300 - at(one)}H320"/><text class="small" x="{40 + at(one)}" y="316" text-anchor="middle">'
                   f'{one:.0%}</text><text class="small" x="34" y="{304 - at(one)}" text-anchor="end">{one:.0%}</text>' for one in (0, 0.25, 0.5, 0.75, 1))
    return (f'<svg class="drawing" viewBox="0 0 340 340" role="img" aria-label="How often the key was right against how sure it was; the table below says the same">'
            f'{grid}<path class="broken" d="M40 300L320 20"/>{rings}<text class="small" x="180" y="334" text-anchor="middle">how sure it was</text>'
            f'<text class="small" x="46" y="14">how often right</text></svg>')


TEXT = """# How sure the key is, and how often right

When the key gives a share of 70 in 100, it should be right in 70 cases of 100. Over all simulated sessions the two differ by {apart:.1f} points on
average. The visitor reads words, not shares; “very likely” stands for more than 90 in 100 and two independent signs. The greatest share in this
measurement is {most:.1%}; from outside nothing is said to be over 95 %.
{{: .lead }}

<figure class="figure" markdown="0">{plot}<figcaption>Each ring is a group of sessions; the broken line is where sure and right agree. Large rings are many sessions.</figcaption></figure>

| Sessions | How sure on average | How often right |
| ---: | ---: | ---: |
{rows}

## How it was measured

{sessions} sessions in {worlds} simulated worlds, each facet from each place. These worlds are not the key’s own. Every kind is a mixture of {makes} makes with habits of
their own; kinds are up to twice as common or as rare as the key believes; one clock in ten shows signs of another kind in one group of questions; 3 to 15 answers in a hundred
are mistakes; and a look can be told as often as people who describe a clock mention it. A session ends when the key stops or has put six questions. On
other worlds than these, discounts for answers about the same thing from none to 1 were tried: sure and right were 1.5 to 4.5 points apart, so the
discount of 0.3, chosen on described clocks, was kept. All this is simulated: real clocks may keep other habits. Where several
faults or changes at once are common, the key still looks for one.

| Facet | Sure and right apart, in points |
| --- | ---: |
{facets}

The key is [here](key/index.md); its settings are in [a table of their own](constants/key-settings.md).
"""


if __name__ == "__main__":
    (fit if "--fit" in sys.argv else show)(read_library(ROOT)[0])
