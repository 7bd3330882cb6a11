"""Curves on pages: a calculation worked along one of its inputs, and the moon's error by the counts; each with its table."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from html import escape
from typing import TYPE_CHECKING

from build_tools.calculate import evaluate, read_all, resolved, units_of
from build_tools.counts import from_count
from build_tools.figures.curve import Axis, Line, curve
from build_tools.number import NumberError, read_number, significant
from build_tools.render.figure import figure
from build_tools.render.view import View
from build_tools.units import Units, split_quantity

if TYPE_CHECKING:
    from build_tools.model import Calculation
    from build_tools.model_parts import Input

POINTS = 60
ROWS = 6
MONTHS = ("Jan", "Mar", "May", "Jul", "Sep", "Nov")


def curve_of(entry: Calculation, view: View) -> str:
    """The curve that the entry asks for, all other inputs as in its worked example; empty where it asks for none."""
    if entry.plot is None:
        return ""
    entry = resolved(entry, view.library)
    if entry.procedure:
        return _curve_of_table(entry, view)
    field = next(one for one in entry.inputs if one.name == entry.plot.across)
    given = _places(entry, field)
    found = [(place, words, value) for place, words in given if (value := _worked(entry, field, words, view)) is not None]
    units = units_of(view.library)
    label = {step.name: step.label for step in entry.steps} | {result.name: result.label for result in entry.results if result.label}
    unit = {step.name: step.unit for step in entry.steps} | {result.name: result.unit for result in entry.results if result.unit}
    up = _axis(label.get(entry.plot.up, entry.plot.up), units.symbol(unit.get(entry.plot.up, "")))
    across = _axis(field.label, units.symbol(field.unit), _month_marks(given) if field.type == "date" else ())
    title = f"{up.label}: {field.label.lower()} along the bottom"
    says = f"{title}, from {found[0][1]} to {found[-1][1]}; the figures stand in the table."
    drawn = curve(f"curve-{entry.id}", title, says, across, up, [Line(tuple((place, value) for place, _, value in found))])
    rows = [(words, _shown(value)) for _, words, value in found[:: max(1, len(found) // ROWS)]]
    html = figure(drawn, f"{title}. {_others(entry, field, units)}").replace("</figure>", _table((across.words, up.words), rows) + "</figure>")
    data = {"sum": entry.id, "across": field.name, "up": entry.plot.up, "from": given[0][1], "to": given[-1][1], "title": title, "across-words": "\n".join(across.lines), "up-words": "\n".join(up.lines)}
    return html.replace("<figure ", "<figure " + "".join(f'data-{name}="{escape(text)}" ' for name, text in data.items()), 1)


def _curve_of_table(entry: Calculation, view: View) -> str:
    """Two columns of the table that a procedure gives for the worked example, days along the bottom."""
    result = next(each for each in entry.results if {entry.plot.across, entry.plot.up} <= {column.name for column in each.columns})
    names = [column.name for column in result.columns]
    texts = {one.name: one.example for one in entry.inputs}
    rows = evaluate(entry, read_all(entry, texts, view.library), view.library).values[result.name]
    found = [(str(row[names.index(entry.plot.across)]), float(row[names.index(entry.plot.up)])) for row in rows]
    start = date.fromisoformat(found[0][0])
    given = [(float((date.fromisoformat(day) - start).days), day) for day, _ in found]
    across, up = (next(column for column in result.columns if column.name == name) for name in (entry.plot.across, entry.plot.up))
    title = f"{up.label}: {across.label.lower()} along the bottom"
    says = f"{title}, from {found[0][0]} to {found[-1][0]}; the figures stand in the table."
    line = Line(tuple((place, value) for (place, _), (_, value) in zip(given, found)))
    drawn = curve(f"curve-{entry.id}", title, says, _axis(across.label, "", _month_marks(given)), _axis(up.label, units_of(view.library).symbol(up.unit)), [line])
    rows = [(day, _shown(value)) for day, value in found[:: max(1, len(found) // ROWS)]]
    return figure(drawn, f"{title}.").replace("</figure>", _table((across.label, up.label), rows) + "</figure>")


def _axis(label: str, unit: str, marks: tuple[tuple[float, str], ...] = ()) -> Axis:
    """An axis; its unit is left out where the label has said it already, as "beats an hour" does."""
    said = not unit or unit.split()[-1] in label.split()
    return Axis(label, "" if said else unit, marks)


def _places(entry: Calculation, field: Input) -> list[tuple[float, str]]:
    """Where along the bottom the sum is worked, as a number to draw by and as an input would be typed."""
    first, last = entry.plot.from_ or field.minimum, entry.plot.to or field.maximum
    if field.type == "date":
        start, end = date.fromisoformat(first), date.fromisoformat(last)
        days = (end - start).days
        return [(float(step), (start + timedelta(days=step)).isoformat()) for step in range(0, days + 1, max(1, days // POINTS))]
    low, high = read_number(first), read_number(last)
    if field.type == "whole":
        return [(float(value), str(value)) for value in range(int(low), int(high) + 1, max(1, int(high - low) // POINTS))]
    return [(float(value), _typed(value)) for value in (low + (high - low) * Fraction(step, POINTS) for step in range(POINTS + 1))]


def _typed(value: Fraction) -> str:
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def _worked(entry: Calculation, field: Input, words: str, view: View) -> float | None:
    """The result for one value of the input; None where the sum has none."""
    texts = {one.name: one.example for one in entry.inputs} | {field.name: words}
    try:
        value = evaluate(entry, read_all(entry, texts, view.library), view.library).values[entry.plot.up]
        return float(value)
    except (NumberError, ValueError):
        return None


def _month_marks(given: Sequence[tuple[float, str]]) -> tuple[tuple[float, str], ...]:
    start = date.fromisoformat(given[0][1])
    firsts = [date(start.year, 2 * place + 1, 1) for place in range(6)]
    return tuple(((first - start).days, MONTHS[place]) for place, first in enumerate(firsts) if (first - start).days >= 0)


def _others(entry: Calculation, field: Input, units: Units) -> str:
    others = [f"{one.label.lower()} {_example_of(one, units)}" for one in entry.inputs if one.name != field.name]
    return f"Held fast: {', '.join(others)}." if others else ""


def _example_of(field: Input, units: Units) -> str:
    """The example as a person would say it: the words of a choice, a number with its unit."""
    if field.type == "choice":
        return next(choice.label for choice in field.choices if choice.value == field.example)
    bare = not any(unit for _, unit in split_quantity(field.example))
    return f"{field.example} {units.symbol(field.unit)}".strip() if bare else field.example


def _shown(value: float) -> str:
    return significant(value, 5)


def _table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    """The figures behind a curve, folded up."""
    head = "".join(f"<th>{escape(words)}</th>" for words in heads)
    body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<details><summary>The figures behind it</summary><table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></details>"


YEARS = 10
MOON_COUNTS = ("count:moon-59", "count:moon-15-98-25-113", "count:moon-10-84-75-113")


def moon_error(view: View) -> str:
    """How far moon dials of usual counts run away from the mean moon in ten years."""
    calculation = resolved(view.library["calculation:moon-error"], view.library)
    lines, rows = [], []
    for ref in MOON_COUNTS:
        entry = view.library[ref]
        inputs = {one.name: read_number(one.default) for one in calculation.inputs if one.default} | from_count(calculation, entry, view.library)
        values = evaluate(calculation, inputs, view.library).values
        each_year = float(values["error"]) / 1440 / float(values["period"]) * 365.2422
        lines.append(Line(((0.0, 0.0), (float(YEARS), each_year * YEARS)), entry.id.removeprefix("moon-").replace("-", " ")))
        rows.append((entry.name, *(significant(each_year * years, 3) for years in (1, 5, 10))))
    title = "How far moon dials run away from the mean moon"
    drawn = curve("moon-error-years", title, title + "; the figures stand in the table.", Axis("Years without setting"), Axis("Days ahead (behind: minus)"), lines)
    return figure(drawn, "Each line bears the teeth of its count; it is set right at the beginning and never again.").replace(
        "</figure>", _table(("Count", "1 year", "5 years", "10 years, days"), rows) + "</figure>")


RODS = ("brass", "steel", "glass", "wood", "fused-silica")
WARMER = 20  # kelvin


def rods(view: View) -> str:
    """What warmth does to the rate, by the material of the pendulum rod."""
    calculation = resolved(view.library["calculation:temperature-rate"], view.library)
    lines, rows = [], []
    for row in view.library.table("expansion"):
        if row.name in RODS:
            rates = {warmer: _rate(calculation, row.value, warmer, view) for warmer in (0, 5, 10, WARMER)}
            lines.append(Line(tuple((float(warmer), rate) for warmer, rate in rates.items()), row.name.replace("-", " ")))
            rows.append((row.says, *(significant(rates[warmer], 3) for warmer in (5, 10, WARMER))))
    title = "What warmth does to the rate, by the pendulum rod"
    drawn = curve("rods", title, title + "; the figures stand in the table.", Axis("Warmer by", "K"), Axis("Rate changes by", "s/day"), lines)
    return figure(drawn, "A plain rod, nothing made good; minus means that the clock loses.").replace(
        "</figure>", _table(("Rod", "5 K", "10 K", "20 K, s/day"), rows) + "</figure>")


def _rate(calculation: Calculation, expansion: str, warmer: int, view: View) -> float:
    inputs = read_all(calculation, {"expansion": expansion, "change": str(warmer)}, view.library)
    return float(evaluate(calculation, inputs, view.library).values["rate"]) if warmer else 0.0


def readings(view: View) -> str:
    """The readings of the worked example, and the line that lies nearest to them: its slope is the rate."""
    calculation = resolved(view.library["calculation:rate-from-readings"], view.library)
    inputs = read_all(calculation, {one.name: one.example for one in calculation.inputs}, view.library)
    days, errors = ([float(value) for value in inputs[name]] for name in ("days", "errors"))
    rate = float(evaluate(calculation, inputs, view.library).values["rate"])
    start = sum(errors) / len(errors) - rate * sum(days) / len(days)
    fitted = [start + rate * day for day in days]
    title = "Rate from readings: the line nearest to them"
    lines = [Line(tuple(zip(days, fitted)), "nearest line"), Line(tuple(zip(days, errors)), "readings", dots=True)]
    drawn = curve("readings", title, title + "; the figures stand in the table.", Axis("Days since the first reading"), Axis("Clock ahead by", "s"), lines)
    rows = [(significant(day, 3), significant(error, 3), significant(on, 3)) for day, error, on in zip(days, errors, fitted)]
    caption = f"The slope is the rate: {significant(rate, 3)} seconds a day. How far the dots lie from the line says how far to believe it."
    return figure(drawn, caption).replace("</figure>", _table(("Days", "Read, s", "On the line, s"), rows) + "</figure>")
