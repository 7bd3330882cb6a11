"""The best wheels and pinions for a wanted ratio or period."""
from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from build_tools.formula.evaluate import Train, Value
from build_tools.given import read_counts
from build_tools.number import NumberError, compact, settled
from build_tools.trainsearch import Best, Bounds, SearchError, search
from build_tools.trainsearch import Train as Found

HOURS_A_DAY, SECONDS_A_DAY, MILLION = 24, 86400, 1_000_000


def best_train(values: Mapping[str, Value], trains: tuple[tuple[Train, int], ...]) -> dict[str, Any]:
    """The best trains for `ratio` (turns of the last arbor for one of the first) or for `period` (days a turn of the last arbor)."""
    by_period = "period" in values
    if by_period == ("ratio" in values):
        raise NumberError("give the ratio or the period, one of the two")
    drivers, driven = read_counts(values["drivers"]), read_counts(values["driven"])
    over, under = (driven, drivers) if by_period else (drivers, driven)
    bounds = Bounds(int(values["meshes"]), over, under, values["coprime"] == "yes")
    first = settled(values["driver_hours"]) / HOURS_A_DAY
    wanted = settled(values["period"]) / first if by_period else settled(values["ratio"])
    try:
        best = search(wanted, bounds)
    except SearchError as error:
        raise NumberError(str(error)) from None
    if not best.trains:
        raise NumberError("every train within these limits has a mesh with a common factor: widen the limits")
    _within_reach(wanted, bounds, values, first if by_period else None)
    rows = [_row(each, wanted, first if by_period else None) for each in best.trains]
    return {**rows[0], "equals": Fraction(best.equals), "verdict": _verdict(best), "answers": tuple(tuple(row.values()) for row in rows)}


def _row(found: Found, wanted: Fraction, first: Fraction | None) -> dict[str, Any]:
    """One answer; `first` is the time of the first arbor in days when a period was asked for."""
    meshes = zip(found.mates, found.over) if first else zip(found.over, found.mates)
    return {
        "train": " ".join(f"{driver}/{driven}" for driver, driven in meshes),
        "teeth": Fraction(found.teeth),
        "ratio_found": 1 / found.ratio if first else found.ratio,
        "period_found": found.ratio * first if first else None,
        "error": (found.ratio / wanted - 1) * MILLION,
        "error_time": (found.ratio - wanted) * first * SECONDS_A_DAY if first else None,
    }


def _within_reach(wanted: Fraction, bounds: Bounds, values: Mapping[str, Value], first: Fraction | None) -> None:
    """Raises NumberError for what no train within the limits comes near: the nearest would be a table of trains that are all far off."""
    least = Fraction(bounds.over[0], bounds.under[-1]) ** bounds.meshes
    most = Fraction(bounds.over[-1], bounds.under[0]) ** bounds.meshes
    if least <= wanted <= most:
        return
    what, unit, worth = ("periods", " d", first) if first else ("ratios", "", Fraction(1))
    reach = f"out of reach: these limits give {what} from {compact(least * worth, 4)} to {compact(most * worth, 4)}{unit} only"
    turned = 1 / most <= wanted <= 1 / least
    cure = f"let the small counts drive, {values['driven']} as drivers and {values['drivers']} as driven" if turned and wanted > most and first else "widen the limits, or allow more meshes"
    raise NumberError(f"{reach}; {cure}")


def _verdict(best: Best) -> str:
    """What the answers come to, in a sentence."""
    several = best.equals > 1
    if best.trains[0].error == 0:
        return f"{best.equals} trains give it exactly; those with the fewest teeth stand first." if several else "One train gives it exactly."
    return f"None gives it exactly; {best.equals} come equally near." if several else "None gives it exactly; one comes nearest."
