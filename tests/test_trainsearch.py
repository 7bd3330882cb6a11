"""The search for the best wheels: against brute force, against print, and that the page finds the same."""
from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations_with_replacement, permutations
from math import gcd, lcm, prod
from typing import Any

import pytest

from build_tools.trainsearch import Bounds, Counts, SearchError, factorisations, pairing, products, search
from tests.javascript import Page

Row = tuple[Fraction, int, Counts, Counts]


def every_train(wanted: Fraction, bounds: Bounds, common: int) -> Iterator[tuple[int, int, Counts, Counts]]:
    """Each choice of counts above and below the line, weighed one by one; its error in whole parts of 1/`common`."""
    unders = [(under, common // prod(under)) for under in choices(bounds.under, bounds.meshes)]
    aim = int(wanted * common)
    for over in choices(bounds.over, bounds.meshes):
        for under, parts in unders:
            if not bounds.coprime or can_be_paired(over, under):
                yield abs(prod(over) * parts - aim), sum(over) + sum(under), over, under


def choices(counts: Counts, meshes: int) -> list[Counts]:
    return list(combinations_with_replacement(sorted(counts, reverse=True), meshes))


def can_be_paired(over: Counts, under: Counts) -> bool:
    return any(all(gcd(*mesh) == 1 for mesh in zip(over, order)) for order in permutations(under))


def by_brute_force(wanted: Fraction, bounds: Bounds, rows: int) -> tuple[list[Row], int]:
    common = lcm(wanted.denominator, *(prod(under) for under in choices(bounds.under, bounds.meshes)))  # whole numbers are compared ten times as fast as fractions
    found = sorted(every_train(wanted, bounds, common))
    best = [(Fraction(error, common), *rest) for error, *rest in found[:rows]]
    return best, sum(each[0] == found[0][0] for each in found) if found else 0


def drawn(seed: int) -> tuple[Fraction, Bounds]:
    """A ratio and bounds, narrow enough for brute force, odd ones among them: gaps, single counts, ratios out of reach."""
    chance = random.Random(seed)
    meshes = chance.choice((1, 1, 2, 2, 2, 3, 3, 4))
    widest = {1: 150, 2: 28, 3: 9, 4: 5}[meshes]
    over, under = (_counts(chance, widest) for _ in range(2))
    reach = Fraction(prod(over[-1:]) ** meshes, under[0] ** meshes)
    wanted = chance.choice((
        Fraction(chance.randint(1, 400), chance.randint(1, 60)), Fraction(chance.choice(over), chance.choice(under)) ** meshes,
        Fraction(chance.randint(1, 10**9), 10**6), reach * 3, reach / 10**6, Fraction(29530589, 1000000),
    ))
    return wanted, Bounds(meshes, over, under, chance.random() < 0.4)


def _counts(chance: random.Random, widest: int) -> Counts:
    least = chance.randint(2, 90)
    counts = list(range(least, least + chance.randint(1, widest)))
    if chance.random() < 0.3:
        counts = chance.sample(counts, max(1, len(counts) // 2))
    return tuple(sorted(counts))


@pytest.mark.parametrize("seed", range(200))
def test_no_better_train_exists(seed: int) -> None:
    wanted, bounds = drawn(seed)
    rows = 1 + seed % 15
    expected, equals = by_brute_force(wanted, bounds, rows)
    found = search(wanted, bounds, rows)
    assert [(each.error, each.teeth, each.over, each.under) for each in found.trains] == expected
    assert found.equals == equals
    for each in found.trains:
        assert sorted(each.mates) == sorted(each.under)
        assert not bounds.coprime or all(gcd(*mesh) == 1 for mesh in zip(each.over, each.mates))


def plain(found: Any) -> dict[str, Any]:
    trains = [[str(each.error), each.teeth, list(each.over), list(each.under), list(each.mates), str(each.ratio)] for each in found.trains]
    return {"equals": found.equals, "trains": trains}


IN_THE_PAGE = """data.map(([top, bottom, meshes, over, under, coprime, rows]) => {
  const wanted = ClockRef.number.rational(BigInt(top), BigInt(bottom)), shown = (value) => {
    const lowest = ClockRef.number.rational(value.n, value.d);
    return lowest.d === 1n ? `${lowest.n}` : `${lowest.n}/${lowest.d}`;
  };
  const found = ClockRef.trainsearch.search(wanted, { meshes, over, under, coprime }, rows);
  return { equals: found.equals, trains: found.trains.map((each) => [shown(each.error), each.teeth, each.over, each.under, each.mates, shown(each.ratio)]) };
})"""


def compared(cases: list[tuple[Fraction, Bounds]], rows: int, scripts: Page) -> None:
    data = [[str(wanted.numerator), str(wanted.denominator), each.meshes, each.over, each.under, each.coprime, rows] for wanted, each in cases]
    theirs = scripts.run(IN_THE_PAGE, data)
    assert [plain(search(wanted, bounds, rows)) for wanted, bounds in cases] == theirs


def test_the_page_finds_the_same(scripts: Page) -> None:
    compared([drawn(seed) for seed in range(400)], 12, scripts)


WHEELS, PINIONS = tuple(range(20, 145)), tuple(range(6, 21))


@pytest.mark.parametrize("wanted", ["60", "29.530589", "7.3", "365.2422", "22963/5040", "314159265358979323846/100000000000000000000"])
@pytest.mark.parametrize("meshes", [1, 2, 3, 4])
def test_the_page_finds_the_same_in_wide_bounds(wanted: str, meshes: int, scripts: Page) -> None:
    compared([(Fraction(wanted), Bounds(meshes, WHEELS, PINIONS, coprime)) for coprime in (False, meshes < 4)], 12, scripts)


def test_equals_are_counted_as_wheels_with_pinions_whatever_their_order() -> None:
    """19,014 trains of three meshes give 60 to 1, by a count that knows nothing of the search."""
    ways: dict[int, int] = {}
    for wheels in combinations_with_replacement(WHEELS, 3):
        ways[prod(wheels)] = ways.get(prod(wheels), 0) + 1
    assert sum(ways.get(60 * prod(pinions), 0) for pinions in combinations_with_replacement(PINIONS, 3)) == 19014
    assert search(Fraction(60), Bounds(3, WHEELS, PINIONS)).equals == 19014


def test_common_factors_are_judged_in_the_best_pairing() -> None:
    assert pairing((84, 35), (6, 5)) == (5, 6)  # 84 on 6 and 35 on 5 share factors, 84 on 5 and 35 on 6 do not
    assert pairing((84, 35), (10, 6)) is None


def test_products_and_their_factorisations() -> None:
    assert products((6, 7, 8), 2) == [36, 42, 48, 49, 56, 64]
    assert factorisations(3600, tuple(range(20, 145)), 2) == [(60, 60), (72, 50), (75, 48), (80, 45), (90, 40), (100, 36), (120, 30), (144, 25)]


@pytest.mark.parametrize(("bounds", "says"), [
    (Bounds(5, WHEELS, PINIONS), "5 meshes can't be searched"), (Bounds(0, WHEELS, PINIONS), "0 meshes can't be searched"), (Bounds(2, (), PINIONS), "no counts are left"),
    (Bounds(3, tuple(range(20, 600)), PINIONS), "the largest count that can be searched is 400"), (Bounds(4, tuple(range(20, 300)), tuple(range(20, 300))), "narrow the limits"),
])
def test_what_can_not_be_searched_to_the_end_is_refused(bounds: Bounds, says: str, scripts: Page) -> None:
    with pytest.raises(SearchError, match=says):
        search(Fraction(60), bounds)
    answered = scripts.run(f"attempt(() => {IN_THE_PAGE.replace('data.map', '[data].map')})", ["60", "1", bounds.meshes, bounds.over, bounds.under, False, 5])
    assert says in answered["error"]
