"""Few taps: the expected number of questions of the key, beside the best that any order of asking could do.

Run it by hand: .venv/bin/python tests/benchmarks/key_taps.py [FACET ...]. Both follow the key's stopping rule on the key's
own shares, with "can't tell" as often as people who describe a clock leave a thing out (`mentioned`); a session that ends undecided counts six. The optimum is found
backwards over all sets of answers to the twelve most telling questions, six deep.
"""
from __future__ import annotations

import sys
from itertools import combinations, product
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]

import numpy as np  # noqa: E402
from key_arrays import Arrays, Floats, States, same_as_the_key  # noqa: E402

from build_tools.key import Key  # noqa: E402
from build_tools.key_answers import facets  # noqa: E402
from build_tools.library import Library, read_library  # noqa: E402

MOST, TELLING = 6, 12
LEAST_CHANCE = 1e-5


def expected_of_the_key(arrays: Arrays) -> tuple[float, float]:
    """Expected questions, and the share of sessions that end settled; paths under one in 100,000 count as undecided."""
    states, chance = arrays.nothing_asked(), np.ones(1)
    expected, settled = 0.0, 0.0
    for depth in range(MOST):
        shares = arrays.posterior(states)
        firm = arrays.settled(states, shares)
        expected, settled = expected + depth * chance[firm].sum(), settled + chance[firm].sum()
        states, chance, lost = _asked_on(arrays, states[~firm], shares[~firm], chance[~firm])
        expected += MOST * lost
    settled += chance[arrays.settled(states, arrays.posterior(states))].sum() if len(states) else 0.0
    return expected + MOST * chance.sum(), settled


def _asked_on(arrays: Arrays, states: States, shares: Floats, chance: Floats) -> tuple[States, Floats, float]:
    """The states after one more question each, their chances, and the chance of all that asks no more."""
    following = arrays.next_questions(states, shares) if len(states) else np.empty(0, dtype=int)
    lost = chance[following < 0].sum()
    after, chances = [np.empty((0, len(arrays.questions)), dtype=np.int64)], [np.empty(0)]
    for place in set(following[following >= 0].tolist()):
        here = following == place
        ways = arrays.chances(shares[here], place) * chance[here][:, None]
        for answer in range(ways.shape[1]):
            changed = states[here].copy()
            changed[:, place] = answer
            after.append(changed)
            chances.append(ways[:, answer])
    joined, whole = np.vstack(after), np.concatenate(chances)
    kept = whole >= LEAST_CHANCE
    return joined[kept], whole[kept], lost + whole[~kept].sum()


def most_telling(arrays: Arrays) -> list[str]:
    """The questions whose answers say most about the outcome: greatest information times the chance of being answered."""
    priors = np.exp(arrays.priors)
    def information(place: int) -> float:
        rows = arrays.shares[place]
        mean = rows @ priors
        return float((1.0 - arrays.unsure[place]) * (priors * (rows * np.log(rows / mean[:, None])).sum(axis=0)).sum())
    order = sorted(range(len(arrays.questions)), key=information, reverse=True)
    return [arrays.questions[place] for place in sorted(order[:TELLING])]


def optimum(key: Key, viewpoint: str, arrays: Arrays) -> float:
    """The least expected number of questions, by dynamic programming over sets of questions and their answers."""
    few = Arrays(key, viewpoint, most_telling(arrays))
    places = range(len(few.questions))
    deepest = min(MOST - 1, len(few.questions))
    later: dict[tuple[int, ...], Floats] = {}
    for size in range(deepest, -1, -1):
        later = {chosen: _to_go(few, chosen, later) for chosen in combinations(places, size)}
    return float(later[()].item())


def _to_go(few: Arrays, chosen: tuple[int, ...], later: dict[tuple[int, ...], Floats]) -> Floats:
    """Expected further questions for all answers to the chosen questions, one axis a question."""
    shape = tuple(few.answers[place] + 1 for place in chosen)
    states = few.nothing_asked(int(np.prod(shape)))
    if chosen:
        states[:, chosen] = np.array(list(product(*map(range, shape))))
    shares = few.posterior(states)
    best = np.full(len(states), float(MOST - len(chosen)))
    for place in (place for place in range(len(few.questions)) if place not in chosen and later):
        following = tuple(sorted((*chosen, place)))
        ahead = np.moveaxis(later[following], following.index(place), -1).reshape(len(states), -1)
        best = np.minimum(best, 1.0 + (few.chances(shares, place) * ahead).sum(axis=1))
    best[few.settled(states, shares)] = 0.0
    return best.reshape(shape)


def rows(library: Library, names: list[str]) -> list[tuple[str, str, int, float, float, float]]:
    found = []
    for facet in (row.name for row in facets(library) if not names or row.name in names):
        key = Key(library, facet)
        for place in library.table("viewpoints"):
            arrays = Arrays(key, place.name)
            if len(arrays.questions) < 2:
                continue
            same_as_the_key(arrays, _sample(arrays))
            ours, settled = expected_of_the_key(arrays)
            found.append((facet, place.name, len(arrays.questions), ours, optimum(key, place.name, arrays), settled))
            print("{:18} {:10} {:3d} questions  key {:.2f}  optimum {:.2f}  ratio {:.3f}  settled {:.0%}".format(
                *found[-1][:5], found[-1][3] / found[-1][4], settled), flush=True)
    return found


def _sample(arrays: Arrays) -> States:
    chance = np.random.default_rng(1657)
    states = arrays.nothing_asked(8)
    for number, state in enumerate(states):
        for place in chance.choice(len(arrays.questions), min(number, len(arrays.questions)), replace=False):
            state[place] = chance.integers(arrays.answers[place] + 1)
    return states


if __name__ == "__main__":
    measured = rows(read_library(ROOT)[0], sys.argv[1:])
    worst = max(row[3] / row[4] for row in measured)
    print(f"worst ratio {worst:.3f}, mean {np.mean([row[3] / row[4] for row in measured]):.3f}")
