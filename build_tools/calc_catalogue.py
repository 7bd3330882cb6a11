"""Says which calculations there are and what each takes and gives, for people and for programs."""
from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from build_tools.calculate import result_label, unit_of, units_of
from build_tools.given import accepted
from build_tools.plain_text import plain_line
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation
    from build_tools.model_parts import Input, Result, Step

_BLANK = {
    "number": "write {name}= and give a result", "whole": "write {name}= and give a result", "choice": "write {name}= and give a result",
    "train": "write ? for one count and give a result", "list": "write ? for one number and give a result", "date": "write ? for month or day and give a result",
    "lost-train": "write ? for each lost count",
}
"""How an input of each type is left open, so that it is solved for."""


def catalogue(chosen: Iterable[Calculation], library: Library) -> list[dict[str, Any]]:
    """What can be asked: every input and result with its name, label, unit, kind, accepted spellings, range and default."""
    units = units_of(library)
    return [
        {
            "id": entry.id, "question": entry.question, "topic": entry.topic,
            "inputs": [_input_data(field, entry, units) for field in entry.inputs],
            "results": [_result_data(result, entry, units) for result in entry.results],
            "steps": [{"name": step.name, "label": step.label, "unit": step.unit, "may_be_given": _is_number(step)} for step in entry.steps],
            "example": " ".join(["calc", entry.id, *(f'{field.name}="{field.example}"' for field in entry.inputs if field.example)]),
            "limits": plain_line(entry.limits), "cautions": list(entry.cautions),
        }
        for entry in chosen
    ]


def _input_data(field: Input, entry: Calculation, units: Units) -> dict[str, Any]:
    solvable = not entry.procedure or field.type == "lost-train"
    return {
        "name": field.name, "label": field.label, "type": field.type, "unit": field.unit, "about": plain_line(field.why),
        "units_read": [unit.name for unit in units.alike(field.unit)] if field.unit in units else [],
        "unit_spellings": _spellings(field.unit, units),
        "accepted": accepted(field, units), "minimum": field.minimum or None, "maximum": field.maximum or None,
        "usual": list(field.usual), "default": field.default or None, "required": not (field.default or field.optional), "example": field.example,
        "choices": [{"value": choice.value, "label": choice.label} for choice in field.choices],
        "left_open": _BLANK[field.type].format(name=field.name) if solvable and field.type in _BLANK else None,
        "filled_from_count": field.fill or None,
    }


def _result_data(result: Result, entry: Calculation, units: Units) -> dict[str, Any]:
    unit = result.unit or unit_of(entry, result.name)
    step = next((each for each in entry.steps if each.name == result.name), None)
    return {
        "name": result.name, "label": result_label(entry, result), "kind": "table" if result.columns else "words" if step and not _is_number(step) else "value",
        "unit": unit, "decimals": result.decimals, "significant": result.significant, "also": list(result.also),
        "may_be_given": bool(step and _is_number(step)), "unit_spellings": _spellings(unit, units) if step else {},
        "columns": [{"name": column.name, "label": column.label, "unit": column.unit} for column in result.columns],
    }


def _spellings(unit: str, units: Units) -> dict[str, list[str]]:
    """Every unit that is read in the place of `unit`, with what may be written for it."""
    alike = units.alike(unit) if unit in units else ()
    return {each.name: list(dict.fromkeys(word for word in (each.name, each.symbol, each.says, *each.spellings) if word)) for each in alike}


def _is_number(step: Step) -> bool:
    return '"' not in step.formula


def catalogue_as_text(chosen: Iterable[Calculation], library: Library, fields: bool) -> str:
    """The catalogue for a person to read: one line each, or with the fields of each."""
    units = units_of(library)
    lines: list[str] = []
    for entry in chosen:
        lines.append(f"{entry.id:28} {entry.question}")
        if fields:
            lines += [line for field in entry.inputs for line in _input_lines(field, units)]
            lines += [f"  = {result.name:20} {result_label(entry, result)} {units.symbol(result.unit or unit_of(entry, result.name))}".rstrip() for result in entry.results]
            lines += [] if entry.procedure else ["    Give a result, and leave one input empty (name=), to have that input solved for."]
    return "\n".join(lines)


def _input_lines(field: Input, units: Units) -> Iterable[str]:
    left_out = f"; {field.default} when left out" if field.default else "; may be left out" if field.optional else ""
    yield f"    {field.name:20} {field.label}: {accepted(field, units)}{left_out}"
    yield from (f"    {'':20}   {choice.value}: {choice.label}" for choice in field.choices if choice.label != choice.value)
