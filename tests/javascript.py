"""The page's scripts in an embedded V8: the same engine as a browser's, without a page."""
from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from py_mini_racer import MiniRacer

from build_tools.library import Library
from build_tools.render.calculation_script import SCRIPT, generated_scripts

JS = Path(__file__).resolve().parent.parent / "docs" / "js"
BEFORE, AFTER = ("number.js", "sums-evaluate.js", "sums-special.js"), ("sums-spellings.js", "sums-units.js", "sums-solve.js", "trainsearch.js", "procedures.js", "sums-carried.js", "sums-answer.js", "sums-working.js")

HELP = """
const plainValue = (value) => {
  if (value === null || value === undefined || typeof value === "string" || typeof value === "boolean") return value;
  if (typeof value === "number") return String(value);
  if (Array.isArray(value)) return ClockRef.given.written(value);
  return value.d === 1n ? value.n.toString() : `${value.n}/${value.d}`;
};
const attempt = (work) => {
  try { return work(); } catch (error) {
    if (!(error instanceof ClockRef.number.NumberError || error instanceof ClockRef.given.GivenError || error instanceof ClockRef.answer.NoAnswer)) throw error;
    return { error: error.message };
  }
};
const answered = (id, typed) => attempt(() => {
  const found = ClockRef.answer.answer(ClockRef.calculations[id], typed);
  const calculation = ClockRef.calculations[id];
  return {
    inputs: Object.fromEntries(Object.keys(found.inputs).map((name) => [name, ClockRef.carried.printFound(found, name)])),
    values: Object.fromEntries(calculation.steps.map((step) => [step.name, plainValue(found.values[step.name])])),
    shown: Object.fromEntries(found.results.map((result) => [result.name, result.shown])),
    tables: Object.fromEntries(found.tables.map((table) => [table.name, table.rows])),
    also: Object.fromEntries(found.results.map((result) => [result.name, result.also.map((each) => [each.unit, each.shown])])),
    unrounded: Object.fromEntries(found.results.map((result) => [result.name, [result.unrounded || "", result.spread || ""]])),
    working: calculation.steps.map((step) => ClockRef.working.withNumbers(step.working, found.values)),
    blank: found.blank,
    fits: found.solved ? found.solved.fits.map((each) => ClockRef.given.written(each.value)) : [],
    agreement: found.agreement,
  };
});
"""


class Page:
    """The scripts of the calculations, loaded; `call` runs one function of the helpers with plain data."""

    def __init__(self, engine: MiniRacer, library: Library) -> None:
        self.engine = engine
        for name in BEFORE:
            engine.eval((JS / name).read_text(encoding="utf-8"))
        engine.eval(generated_scripts(library)[SCRIPT])
        for name in AFTER:
            engine.eval((JS / name).read_text(encoding="utf-8"))
        engine.eval(HELP)

    def run(self, expression: str, data: Any) -> Any:
        """The value of an expression of `data`, both as plain data."""
        return json.loads(self.engine.eval(f"JSON.stringify((data => {expression})({json.dumps(data)}))"))


@contextmanager
def page(library: Library) -> Iterator[Page]:
    """The loaded scripts; the engine is closed afterwards, or Python would wait for it at its end."""
    with MiniRacer() as engine:
        yield Page(engine, library)
