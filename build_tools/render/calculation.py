"""The page of a calculation: form, formula, worked example, and what books print beside what we get."""
from __future__ import annotations

from collections.abc import Mapping
from html import escape as html
from typing import TYPE_CHECKING

from build_tools.answer import answer
from build_tools.calculate import Outcome, resolved, result_label, tree, units_of
from build_tools.formula.evaluate import Value
from build_tools.formula.mathml import aligned, layout, quantity, symbol, value_of, with_numbers, with_symbols
from build_tools.formula.plain import written
from build_tools.key_numbers_export import DATA
from build_tools.number import for_page
from build_tools.published import Judgement, judge
from build_tools.render.calculation_form import form
from build_tools.render.calculation_script import SCRIPT
from build_tools.render.curves import curve_of
from build_tools.render.pictures import pictures_of
from build_tools.render.evidence import in_print
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View
from build_tools.units import Units, split_quantity

if TYPE_CHECKING:
    from build_tools.model import Calculation
    from build_tools.model_parts import Example, Input, Result, Step

SCRIPTS = ("js/number.js", "js/sums-evaluate.js", "js/sums-special.js", SCRIPT, "js/sums-spellings.js", "js/sums-units.js", "js/sums-solve.js", "js/trainsearch.js", "js/procedures.js", "js/sums-carried.js", "js/sums-answer.js", "js/sums-working.js", "js/sums-view.js", "js/sums-form-units.js", "js/sums-form.js")
FOR_READINGS = ("js/readings.js", "js/readings-page.js")
FOR_TAPPING = (DATA, "js/sums-tap.js")
FOR_CURVE = ("js/sums-curve.js",)
TO_SIZE = {"arc-scale": ("js/arc-scale.js",)}
"""What draws the answer of a procedure to size, by the procedure's name."""


def calculation(entry: Calculation, view: View) -> list[str]:
    """The parts of the page below its heading."""
    entry = resolved(entry, view.library)
    return [
        view.folded_cautions(entry.cautions),
        form(entry, view),
        f"## How the sum goes\n\n{view.prose(entry.what)}\n",
        _formulas(entry),
        _meanings(entry, view),
        view.note(entry.basis),
        _example(entry, view),
        curve_of(entry, view),
        pictures_of(entry.ref, view),
        view.section("The usual mistake", entry.mistake),
        view.section("Where it holds", entry.limits),
        _checks(entry, view),
        view.prose(entry.note) + "\n" if entry.note else "",
        "\n".join(f'<script src="../{view.to(path)}" defer></script>' for path in _scripts(entry)) + "\n",
    ]


def _scripts(entry: Calculation) -> tuple[str, ...]:
    """The scripts of the page; the form's comes last, when all that it uses is there."""
    readings = FOR_READINGS if any(field.type == "list" for field in entry.inputs) else ()
    curve = FOR_CURVE if entry.plot and not entry.procedure else ()
    return SCRIPTS[:-1] + (FOR_TAPPING if entry.tapped else ()) + curve + TO_SIZE.get(entry.procedure, ()) + SCRIPTS[-1:] + readings


def _symbols(entry: Calculation) -> dict[str, str]:
    return {part.name: part.symbol or part.label for part in (*entry.inputs, *entry.steps)}


def _box(mathml: str, label: str) -> str:
    return f'<div class="formula" tabindex="0" role="group" aria-label="{html(label)}">{mathml}</div>'


def _formulas(entry: Calculation) -> str:
    """Each step as a formula, below what it is called."""
    symbols = _symbols(entry)
    return '<div class="formulas">\n' + "\n".join(_formula(step, symbols) for step in entry.steps) + "\n</div>\n" if entry.steps else ""


def _formula(step: Step, symbols: Mapping[str, str]) -> str:
    left = symbol(step.symbol) if step.symbol else ""
    return f"<p>{html(step.label)}</p>\n" + _box(aligned([(left, with_symbols(layout(tree(step.formula)), symbols))]), step.label)


def _meanings(entry: Calculation, view: View) -> str:
    """What each sign stands for, how to find it, and what is usual."""
    units = units_of(view.library)
    items = []
    for field in entry.inputs:
        sign = _sign(field.symbol) if field.type != "train" else ""
        usual = f"Usually {' to '.join(for_page(text) for text in field.usual)} {units.symbol(field.unit)}".rstrip() + "." if field.usual else ""
        told = " ".join(part for part in (view.prose(field.why).replace("\n", " "), escape(usual)) if part)
        items.append(f"{sign}{escape(field.label)}\n:   {told or escape(units.symbol(field.unit) or 'a number')}\n")
    items += [_constant(name, ref, entry.constants[name], view) for name, ref in view.library[entry.ref].constants.items()]
    for step in entry.steps:
        if step.symbol or step.why:
            items.append(f"{_sign(step.symbol)}{escape(step.label)}\n:   {view.prose(step.why) or escape(units.symbol(step.unit))}\n".replace(":   \n", ":   worked out\n"))
    return "\n".join(items)


def _constant(name: str, ref: str, value: str, view: View) -> str:
    """A number that the formulas use without asking for it: what it is, its value, and the way to where it stands."""
    table, _, row = ref.partition(".")
    if not row:
        return f"{_sign(name)}{view.link(table)}\n:   {escape(value)}\n"
    says = next((each.says for each in view.library[table].rows if each.name == row), "")
    return f"{_sign(name)}{escape(says)}\n:   {escape(value)}, from {view.link(table)}\n"


def _sign(written: str) -> str:
    """A symbol within prose: "z_e" with a subscript; nothing for none."""
    head, _, foot = written.partition("_")
    return f"<var>{html(head)}{f'<sub>{html(foot)}</sub>' if foot else ''}</var> " if head else ""


def _example(entry: Calculation, view: View) -> str:
    """The example of the inputs worked out, with where it comes from."""
    answered = answer(entry, {field.name: field.example for field in entry.inputs}, view.library)
    inputs, outcome, units = answered.inputs, answered.outcome, units_of(view.library)
    given = "\n".join(f"- {escape(field.label)}: {escape(_example_text(field, inputs, units))}" for field in entry.inputs if field.name in inputs)
    steps = "\n".join(_worked(step, outcome, view) for step in entry.steps)
    return f"## Worked example\n\n{given}\n\n{steps}\n\n{_found(entry, outcome, units)}\n\n{_example_source(entry, view)}"


def _found(entry: Calculation, outcome: Outcome, units: Units) -> str:
    """What the example gives: a line for each result, and its tables."""
    lines = [f"- {escape(result_label(entry, each))}: **{escape(outcome.results[each.name].written(units))}**" for each in entry.results if each.name in outcome.results]
    tables = [_table(each, outcome.tables[each.name], units) for each in entry.results if each.name in outcome.tables]
    return "It gives:\n\n" + "\n".join(lines) + "\n\n" + "\n".join(tables)


def _table(result: Result, rows: tuple[tuple[str, ...], ...], units: Units) -> str:
    """A table without the columns in which nothing stands."""
    columns = [(column, cells) for column, cells in zip(result.columns, zip(*rows)) if any(cells)]
    heads = [f"{column.label} {units.symbol(column.unit)}".strip() for column, _ in columns]
    return table(heads, [[escape(cell) for cell in row] for row in zip(*(cells for _, cells in columns))], label=f"{result.label}, worked example")


def _example_text(field: Input, inputs: Mapping[str, Value], units: Units) -> str:
    """The example as it is typed, and in the unit of the sum where that is another."""
    if field.type == "choice":
        return next(choice.label for choice in field.choices if choice.value == inputs[field.name])
    worked = f"{written(inputs[field.name])} {units.symbol(field.unit)}".strip()
    bare = not any(unit for _, unit in split_quantity(field.example))
    return worked if field.type == "train" or bare else f"{field.example} = {worked}"


def _worked(step: Step, outcome: Outcome, view: View) -> str:
    line = next(line for line in outcome.lines if line.name == step.name)
    value = outcome.values[step.name]
    shown = value_of(value) if isinstance(value, str) else quantity(line.shown, line.unit)
    put_in = with_numbers(layout(tree(step.formula)), outcome.values)
    working = [] if isinstance(value, str) or shown.startswith(put_in) else [("", put_in)]  # "= 10 = 10" says nothing
    return f"<p>{html(step.label)}</p>\n" + _box(aligned([*working, ("", shown)]), f"{step.label}, worked")


def _example_source(entry: Calculation, view: View) -> str:
    """The published example that has the very inputs of the worked one, when there is one."""
    examples = {field.name: field.example for field in entry.inputs}
    for check in entry.checks:
        if all(examples.get(name) == text for name, text in check.given.items()):
            return f"This is the example of {view.cited(check.source, check.place)}.\n"
    return ""


def _checks(entry: Calculation, view: View) -> str:
    """Every example from outside beside our own figure, with the verdict."""
    rows = [_check(entry, check, view) for check in entry.checks]
    return "## Checked from outside\n\n" + "\n".join(rows) + "\n" if rows else ""


def _check(entry: Calculation, check: Example, view: View) -> str:
    """One example as a list item: what is given, then each printed figure and ours."""
    given = escape(", ".join(f"{name.replace('_', ' ')} {text}" for name, text in check.given.items()))
    found = "; ".join(_judged(judgement, in_print(check.source, view), view) for judgement in judge(entry, check.given, check.expect, view.library))
    note = f" {view.prose(check.note)}" if check.note else ""
    return f"- {view.cited(check.source, check.place)}. With {given}: {found}.{note}"


def _judged(judgement: Judgement, where: str, view: View) -> str:
    because = f" ({view.prose(judgement.because)})" if judgement.because else ""
    ours = escape(f"{for_page(judgement.ours) if _is_number(judgement.ours) else judgement.ours} {judgement.unit}".strip())
    return f"{escape(judgement.name.replace('_', ' '))} {where} {escape(judgement.printed)}, here {ours}: {judgement.verdict or 'agrees'}{because}"


def _is_number(text: str) -> bool:
    return text.lstrip("-").replace(".", "", 1).isdigit()
