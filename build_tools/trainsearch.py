"""Finds the wheels and pinions whose ratio comes nearest to a wanted one: every answer within the bounds is weighed, none is guessed.

A train of m meshes has m counts above the line and m below. All products of m counts above are marked in a table of bytes. For each product
`under` below, the marks nearest to ratio × under are read off, outwards, as long as they can still take a place among the best. What is left
out is therefore no better than the last answer kept, whatever the bounds. The marks are those of three counts at most; a fourth is tried in turn.
`docs/js/trainsearch.js` is the twin of this module.
"""
from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import comb, gcd

MOST_MESHES = 4
MARKED = 3
"""Counts whose products are marked in the table; one more is tried in turn."""
LARGEST_PRODUCT = 64_000_000
MOST_WORK = 5_000_000
ROWS = 12

Counts = tuple[int, ...]


class SearchError(ValueError):
    """One sentence: the bounds ask for more than can be searched, and what to change."""


@dataclass(frozen=True)
class Bounds:
    """Where to search: how many meshes, which counts may stand above and below the line, and whether each mesh must have no common factor."""
    meshes: int
    over: Counts
    under: Counts
    coprime: bool = False


@dataclass(frozen=True, order=True)
class Train:
    """One answer: how far off, teeth in all, the counts above and below the line from the largest down, and those below in the order of their mates."""
    error: Fraction
    teeth: int
    over: Counts
    under: Counts
    mates: Counts
    ratio: Fraction


@dataclass(frozen=True)
class Best:
    """The best answers in their order, and how many are as near as the first."""
    trains: tuple[Train, ...]
    equals: int


def search(wanted: Fraction, bounds: Bounds, rows: int = ROWS) -> Best:
    """The `rows` best trains for a wanted ratio: by error, then fewest teeth, then the counts. Raises SearchError."""
    refuse(bounds)
    pairs = _nearest(wanted, bounds, rows)
    least = min((error for error, *_ in pairs), default=Fraction(0))
    found: list[Train] = []
    equals = 0
    for error, over, under in pairs:
        ways = _Ways(over, under, bounds)
        if error == least:
            equals += ways.number()
        if len(found) < rows or (error, ways.fewest) <= (found[-1].error, found[-1].teeth):
            for train in ways.first(rows, error):
                insort(found, train)
            del found[rows:]
    return Best(tuple(found), equals)


def refuse(bounds: Bounds) -> None:
    """Raises SearchError for bounds that can't be searched to the end in a moment."""
    if not 1 <= bounds.meshes <= MOST_MESHES:
        raise SearchError(f"{bounds.meshes} meshes can't be searched: write 1 to {MOST_MESHES}")
    if not bounds.over or not bounds.under:
        raise SearchError("no counts are left to choose from: widen the limits")
    marked = min(bounds.meshes, MARKED)
    if max(bounds.over) ** marked > LARGEST_PRODUCT:
        most = int(LARGEST_PRODUCT ** (1 / marked) + 1e-9)
        raise SearchError(f"with {bounds.meshes} meshes the largest count that can be searched is {most}: lower the upper limit or take fewer meshes")
    tried_in_turn = len(bounds.over) if bounds.meshes > MARKED else 1
    work = comb(len(bounds.under) + bounds.meshes - 1, bounds.meshes) * tried_in_turn
    if work > MOST_WORK:
        raise SearchError("so many counts can't be searched to the end: narrow the limits of the wheels or pinions, or take fewer meshes")


def products(counts: Sequence[int], number: int) -> list[int]:
    """Every product of so many counts, each once, in order."""
    found = {1}
    for _ in range(number):
        found = {product * count for product in found for count in counts}
    return sorted(found)


def marks(counts: Counts, number: int) -> bytearray:
    """A table with a 1 at every product of so many counts."""
    shorter = products(counts, number - 1)
    table = bytearray(counts[-1] ** number + 1)
    unbroken = counts[-1] - counts[0] + 1 == len(counts)
    ones = b"\1" * len(counts)
    for product in shorter:
        if unbroken:
            table[product * counts[0] : product * counts[-1] + 1 : product] = ones
        else:
            for count in counts:
                table[product * count] = 1
    return table


def _nearest(wanted: Fraction, bounds: Bounds, rows: int) -> list[tuple[Fraction, int, int]]:
    """The pairs of products (error, over, under) nearest to the wanted ratio: at least `rows`, and all that are equal to the last of them."""
    kept = _Kept(wanted, bounds, rows)
    marked = min(bounds.meshes, MARKED)
    table = marks(bounds.over, marked)
    further = bounds.over if bounds.meshes > MARKED else (1,)
    for under in reversed(products(bounds.under, bounds.meshes)):
        for count in further:
            kept.weigh(table, under, count)
    return kept.pairs


class _Kept:
    """The nearest pairs of products so far."""

    def __init__(self, wanted: Fraction, bounds: Bounds, rows: int) -> None:
        self.top, self.bottom = wanted.numerator, wanted.denominator
        self.bounds, self.rows = bounds, rows
        self.pairs: list[tuple[Fraction, int, int]] = []
        self.seen: set[tuple[int, int]] = set()
        self.limit: tuple[int, int] | None = None  # the largest error that still counts, as numerator and denominator

    def weigh(self, table: bytearray, under: int, count: int) -> None:
        """Takes in the marked products, times `count`, that are near enough to wanted × under, from the nearest outwards."""
        top, step = self.top * under, self.bottom * count
        middle = top // step
        size = len(table)
        if self.limit is None:
            least, most = 0, size - 1
        else:
            reach = self.limit[0] * under // self.limit[1]
            least, most = -((reach - top) // step), (top + reach) // step
            if least > most:
                return
        place = table.rfind(1, max(least, 0), max(min(middle, most, size - 1) + 1, 0))
        while place >= 0 and self._take(place * count, under):
            place = table.rfind(1, 0, place)
        place = table.find(1, max(middle + 1, least, 0), max(most + 1, 0))
        while place >= 0 and self._take(place * count, under):
            place = table.find(1, place + 1)

    def _take(self, over: int, under: int) -> bool:
        """Keeps a pair; False when it is too far off, as then is everything beyond it."""
        off = abs(over * self.bottom - self.top * under)
        if self.limit and off * self.limit[1] > self.limit[0] * under:
            return False
        if (over, under) in self.seen:
            return True
        self.seen.add((over, under))
        if self.bounds.coprime and not _Ways(over, under, self.bounds).any():
            return True
        insort(self.pairs, (Fraction(off, under * self.bottom), over, under))
        if len(self.pairs) >= self.rows:
            last = self.pairs[self.rows - 1][0]
            del self.pairs[bisect_right(self.pairs, last, key=lambda pair: pair[0]) :]
            self.limit = (last * self.bottom).as_integer_ratio()
        return True


class _Ways:
    """The ways to make one product above the line and one below of single counts."""

    def __init__(self, over: int, under: int, bounds: Bounds) -> None:
        self.ratio, self.coprime = Fraction(over, under), bounds.coprime
        self.overs = factorisations(over, bounds.over, bounds.meshes)
        self.unders = factorisations(under, bounds.under, bounds.meshes)
        self.fewest = sum(self.overs[0]) + sum(self.unders[0])

    def any(self) -> bool:
        """Whether some way has a pairing without common factors."""
        return any(pairing(over, under) for over in self.overs for under in self.unders)

    def number(self) -> int:
        """How many ways there are."""
        if not self.coprime:
            return len(self.overs) * len(self.unders)
        return sum(pairing(over, under) is not None for over in self.overs for under in self.unders)

    def first(self, rows: int, error: Fraction) -> Iterator[Train]:
        """At least the `rows` ways with the fewest teeth."""
        for place, over in enumerate(self.overs):
            enough = rows if self.coprime else rows // (place + 1)
            for under, mates in self._partners(over, enough):
                yield Train(error, sum(over) + sum(under), over, under, mates, self.ratio)

    def _partners(self, over: Counts, enough: int) -> Iterator[tuple[Counts, Counts]]:
        for under in self.unders:
            if enough <= 0:
                return
            mates = pairing(over, under) if self.coprime else under
            if mates:
                enough -= 1
                yield under, mates


def factorisations(product: int, counts: Counts, number: int) -> list[Counts]:
    """Every way to write a product as so many counts, each from the largest down; fewest teeth first."""
    dividing = [count for count in counts if product % count == 0]
    return sorted(_split(product, dividing, number), key=lambda each: (sum(each), each))


def _split(product: int, counts: list[int], number: int) -> Iterator[Counts]:
    """The ways with rising counts, each turned round."""
    if number == 1:
        if product in counts:
            yield (product,)
        return
    for place, count in enumerate(counts):
        if count**number > product:
            return
        if product % count == 0:
            for rest in _split(product // count, counts[place:], number - 1):
                yield (*rest, count)


def pairing(over: Counts, under: Counts) -> Counts | None:
    """The counts below the line in an order in which none shares a factor with the one above it, or None."""
    if not over:
        return ()
    for place, count in enumerate(under):
        if gcd(over[0], count) == 1:
            rest = pairing(over[1:], under[:place] + under[place + 1 :])
            if rest is not None:
                return (count, *rest)
    return None
