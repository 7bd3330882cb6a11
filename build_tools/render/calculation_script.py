"""Writes the script with every calculation that the pages run, from the same entries and the same trees."""
from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from build_tools.calculate import calculations, tree
from build_tools.count_pieces import going_trains
from build_tools.formula.javascript import expression, gaps
from build_tools.formula.mathml import layout

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation
    from build_tools.model_parts import Input, Result, Step

SCRIPT = "js/calculations.js"


def generated_scripts(library: Library) -> dict[str, str]:
    """The scripts that pages need besides the hand-written ones, by path below the site."""
    units = [
        {"name": row.name, "says": row.says, "worth": row.value, "base": row.unit, "symbol": row.symbol or row.name, "also": list(row.also)}
        for row in library.table("units")
    ]
    body = ",\n".join(f"{json.dumps(entry.id)}: {_calculation(entry)}" for entry in calculations(library))
    script = (
        '/* Written from kb/calculations by build_tools/render/calculation_script.py. */\n(function (root) {\n"use strict";\n'
        "const ClockRef = root.ClockRef, N = ClockRef.number, S = ClockRef.sums;\n"
        f"ClockRef.units = {_json(units)};\nClockRef.goingTrains = {_json(going_trains(library))};\nClockRef.calculations = {{\n{body}\n}};\n"
        '})(typeof window === "undefined" ? globalThis : window);\n'
    )
    return {SCRIPT: script}


def _calculation(entry: Calculation) -> str:
    steps = ",\n".join(_step(step) for step in entry.steps)
    results = [_result(each) for each in entry.results]
    return (
        f"{{id: {json.dumps(entry.id)}, constants: {_json(dict(entry.constants))}, inputs: {_json([_input(field) for field in entry.inputs])},\n"
        f"steps: [{steps}],\nprocedure: {json.dumps(entry.procedure)}, results: {_json(results)}}}"
    )


def _result(result: Result) -> dict[str, Any]:
    return _without_blanks({
        "name": result.name, "label": result.label, "decimals": result.decimals, "significant": result.significant, "unit": result.unit,
        "also": list(result.also), "columns": [_result(column) for column in result.columns],
    })


def _input(field: Input) -> dict[str, Any]:
    return _without_blanks({
        "name": field.name, "label": field.label, "type": field.type, "unit": field.unit, "also": list(field.also),
        "minimum": field.minimum, "maximum": field.maximum, "default": field.default, "example": field.example, "optional": field.optional or None, "measured": field.measured or None, "compass": field.compass, "gains": field.gains or None, "of_day": field.of_day or None,
        "choices": [_without_blanks({"value": each.value, "label": each.label, "sets": dict(each.sets)}) for each in field.choices],
    })


def _step(step: Step) -> str:
    node = tree(step.formula)
    impossible = f", impossibleIf: v => {expression(tree(step.impossible_if))}, impossible: {_json(' '.join(step.impossible.split()))}" if step.impossible_if else ""
    return (
        f"{{name: {json.dumps(step.name)}, label: {_json(step.label)}, unit: {_json(step.unit)}, "
        f"f: v => {expression(node)}, working: {gaps(layout(node))}{impossible}}}"
    )


def _without_blanks(fields: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value not in ("", None, [], {})}


def _json(data: Any) -> str:
    return json.dumps(data, ensure_ascii=False)
