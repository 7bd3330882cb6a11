"""Dividing a circle: on a plate with a worm, and the notches of a count wheel."""
from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from build_tools.formula.evaluate import Train, Value
from build_tools.given import read_counts

CIRCLE, HOURS = 360, 12


def dividing(values: Mapping[str, Value], trains: tuple[tuple[Train, int], ...]) -> dict[str, Any]:
    """Turns of the handle for each tooth, and every circle of holes on which they can be counted off."""
    turns = Fraction(values["worm"]) / Fraction(values["teeth"])
    whole, part = turns.numerator // turns.denominator, turns % 1
    holding = [circle for circle in read_counts(values["circles"]) if circle % part.denominator == 0] if part else []
    return {
        "turns": _turns(whole, part),
        "angle": Fraction(CIRCLE) / Fraction(values["teeth"]),
        "verdict": _verdict(part, holding),
        "answers": tuple((Fraction(circle), Fraction(whole), part * circle) for circle in holding) or None,
    }


def _turns(whole: int, part: Fraction) -> str:
    return " ".join(text for text in (str(whole) if whole or not part else "", str(part) if part else "") if text)


def _verdict(part: Fraction, holding: list[int]) -> str:
    if not part:
        return "Whole turns: any hole will do."
    if not holding:
        return f"No circle in the list holds {part.denominator}: another plate, another worm or a compound movement is needed."
    return f"Any circle that {part.denominator} divides will do."


def count_wheel(values: Mapping[str, Value], trains: tuple[tuple[Train, int], ...]) -> dict[str, Any]:
    """Where each hour's run of blows begins and ends round the wheel, in degrees from where one begins.

    The hours from `first_half` to `last_half` are followed by one division for the half.
    """
    halves = range(int(values["first_half"]), int(values["last_half"]) + 1)
    divisions = HOURS * (HOURS + 1) // 2 + len(halves)
    step = Fraction(CIRCLE, divisions)
    rows, passed = [], 0
    for hour in range(1, HOURS + 1):
        start, passed = passed, passed + hour
        rows.append((Fraction(hour), start * step, passed * step, hour * step))
        passed += hour in halves
    return {"divisions": Fraction(divisions), "step": step, "answers": tuple(rows)}
