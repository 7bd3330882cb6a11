"""Whether the pins of a striking train, its locking and warning wheels and its count wheel agree, and which count wheels would."""
from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from build_tools.formula.evaluate import Train, Value, ratio
from build_tools.given import read_counts, read_lost_train
from build_tools.number import NumberError

ROWS = 24


def pins_and_count_wheel(values: Mapping[str, Value], trains: tuple[tuple[Train, int], ...]) -> dict[str, Any]:
    """Blows for a turn of the arbor that carries or drives the count wheel, what the count wheel asks of it, and what a blow asks of the locking wheels."""
    pins, blows = Fraction(values["pins"]), Fraction(values["blows"])
    a_turn = pins * (ratio(values["meshes"]) if "meshes" in values else 1)
    needed = blows / a_turn
    report = _report(values)
    given = None if report is None or 0 in report else Fraction(report[1], report[0])
    lock = ratio(values["lock"]) / pins if "lock" in values else None
    if lock is None and "warning" in values:
        raise NumberError("give the wheels to the locking wheel too; from there the warning wheel is counted")
    warning = lock * ratio(values["warning"]) if lock is not None and "warning" in values else None
    pairs = list(_pairs(needed, report, values))
    return {
        "a_turn": a_turn, "needed": needed, "given": given, "drift": None if given is None else a_turn * given - blows,
        "lock_turns": lock, "warning_turns": warning,
        "verdict": " ".join(_verdict(needed, given, blows, a_turn, pairs, lock, warning, Fraction(values["hoop"]))),
        "answers": tuple((f"{pinion}/{wheel}", Fraction(pinion + wheel)) for pinion, wheel in pairs[:ROWS]) or None,
    }


def _report(values: Mapping[str, Value]) -> tuple[int, int] | None:
    """Pinion of report and count wheel, 0 for what is not known; None where none is given."""
    if "report" not in values:
        return None
    meshes = read_lost_train(values["report"])
    if len(meshes) > 1:
        if any(0 in mesh for mesh in meshes):
            raise NumberError("of the wheels to the count wheel only a single pair may have a ?")
        whole = 1 / ratio(meshes)
        return whole.denominator, whole.numerator
    return meshes[0].driver, meshes[0].driven


def _pairs(needed: Fraction, report: tuple[int, int] | None, values: Mapping[str, Value]) -> Iterator[tuple[int, int]]:
    """Every pinion of report with its count wheel that agree, within the limits and with what is known of the pair."""
    wheels = set(read_counts(values["wheels"]))
    known = report if report and 0 in report else (0, 0)
    for pinion in read_counts(values["pinions"]):
        wheel = needed * pinion
        if wheel.denominator == 1 and (int(wheel) in wheels or int(wheel) == known[1]) and known[0] in (0, pinion) and known[1] in (0, int(wheel)):
            yield pinion, int(wheel)


def _verdict(
    needed: Fraction, given: Fraction | None, blows: Fraction, a_turn: Fraction, pairs: list[tuple[int, int]], lock: Fraction | None, warning: Fraction | None, hoop: Fraction
) -> Iterator[str]:
    if given is not None and given == needed:
        yield "The count wheel agrees with the pins."
    elif given is not None:
        passed = a_turn * given
        yield f"The count wheel does not agree: {mixed(passed)} blows go by in its turn in place of {blows}, so each time round it is {mixed(abs(passed - blows))} out."
    elif needed == 1:
        yield "The count wheel may sit on that arbor itself."
    if given != needed and needed != 1:
        yield f"Pairs that agree: {len(pairs)}." if pairs else "No pinion of report and count wheel within the limits agree."
    if lock is not None:
        fits = (lock * hoop).denominator == 1
        yield "The locking wheel comes round to its place at each blow." if fits else f"The locking wheel does not come round to its place: it makes {mixed(lock)} turns a blow."
    if warning is not None:
        fits = warning.denominator == 1
        yield "The warning wheel does, too." if fits else f"The warning pin wanders: its wheel makes {mixed(warning)} turns a blow."


def mixed(value: Fraction) -> str:
    """A fraction as people write it: 9 3/4."""
    whole, part = value.numerator // value.denominator, value % 1
    return " ".join(text for text in (str(whole) if whole or not part else "", str(part) if part else "") if text)
