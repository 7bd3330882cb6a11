"""The procedures that calculations name in place of steps: what formulas can't say, such as a search or a table.

A procedure is a pure function from the values of the inputs, by name, and the going trains of the counts to its results. A result is a number, words,
a table (a tuple of rows, each a tuple of such values), or None where it does not apply. `docs/js/procedures.js` is the twin of these modules.
"""
from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from build_tools.formula.evaluate import Train, Value
from build_tools.procedure_arc_scale import arc_scale
from build_tools.procedure_best_train import best_train
from build_tools.procedure_dividing import count_wheel, dividing
from build_tools.procedure_lost_wheel import lost_wheel
from build_tools.procedure_striking import pins_and_count_wheel
from build_tools.procedure_sun import equation_year

Procedure = Callable[[Mapping[str, Value], tuple[tuple[Train, int], ...]], dict[str, Any]]

PROCEDURES: dict[str, Procedure] = {
    "best-train": best_train, "lost-wheel": lost_wheel, "dividing": dividing, "count-wheel": count_wheel, "pins-and-count-wheel": pins_and_count_wheel,
    "equation-year": equation_year, "arc-scale": arc_scale,
}
