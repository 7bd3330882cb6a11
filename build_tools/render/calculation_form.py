"""The form of a calculation: a field for each input, and one for each result that may be given instead."""
from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from build_tools.calculate import units_of
from build_tools.number import for_page
from build_tools.render.prose import plain
from build_tools.units import Units

if TYPE_CHECKING:
    from build_tools.model import Calculation
    from build_tools.model_parts import Input, Step
    from build_tools.render.view import View

_KEYBOARDS = {"number": "decimal", "whole": "numeric"}


def form(entry: Calculation, view: View) -> str:
    """The form as HTML; hidden until the script that works it has come."""
    units = units_of(view.library)
    fields = "\n".join(_field(field, units) for field in entry.inputs)
    known = _known(entry, units)
    source = "; ".join(dict.fromkeys(view.library[item.source].name for item in entry.basis if item.source)) or "arithmetic"
    return f"""<form class="sum" data-sum="{entry.id}" data-limits="{_attribute(plain(entry.limits))}" data-source="{_attribute(source)}" novalidate hidden>
{fields}
{known}<div class="answer" aria-live="polite"></div>
<div class="row"><button type="submit">Work it out</button><button type="button" data-do="example">Put in the example</button><button type="button" data-do="clear">Clear</button><button type="button" data-do="copy" hidden>Copy as text</button></div>
{_readings(entry)}</form>
"""


def _known(entry: Calculation, units: Units) -> str:
    """The fields for results that may be given instead; what a procedure gives can't be turned round."""
    if entry.procedure:
        return ""
    known = "\n".join(_result_field(step, units) for step in entry.steps if _is_number(entry, step))
    return f"""<details class="known"><summary>Is a result known? Leave one field above empty</summary>
{known}
</details>
"""


def _readings(entry: Calculation) -> str:
    """Where readings with their dates are kept and drawn, for a sum of two lists; nothing for others."""
    lists = [field for field in entry.inputs if field.type == "list"]
    if len(lists) != 2 or entry.procedure:
        return ""
    across, up = lists
    return f"""<div class="readings" data-across="{across.name}" data-up="{up.name}" hidden>
<div data-part="drawing"></div>
<details><summary>Readings kept on this device</summary>
<div class="field"><label for="reading-at">Time of the reading</label>
<div class="entry"><input id="reading-at" type="datetime-local" data-part="at"></div></div>
<div class="field"><label for="reading-error">{escape(up.label)}</label>
<div class="entry"><input id="reading-error" inputmode="text" autocomplete="off" data-part="error"></div></div>
<ul data-part="rows"></ul>
<p class="hint" data-part="said" role="status"></p>
<div class="row"><button type="button" data-reading="add">Add this reading</button><button type="button" data-reading="use" hidden>Work with these</button><button type="button" data-reading="save" hidden>Save as CSV</button><button type="button" data-reading="forget" hidden>Forget them</button></div>
</details></div>
"""


def _attribute(text: str) -> str:
    return escape(" ".join(text.split()))


def _is_number(entry: Calculation, step: Step) -> bool:
    return '"' not in step.formula


def _field(field: Input, units: Units) -> str:
    control = _select(field) if field.type == "choice" else _box(field.name, field.default, _KEYBOARDS.get(field.type, "text"), _placeholder(field))
    hint = _hint(field, units)
    return (
        f'<div class="field"><label for="field-{field.name}">{escape(field.label)}</label>\n'
        f'<div class="entry">{control}{_units(field, units)}</div>\n'
        f'<p class="hint" id="hint-{field.name}">{escape(hint)}</p><p class="error" id="error-{field.name}" hidden></p></div>'
    )


def _result_field(step: Step, units: Units) -> str:
    unit = f'<span class="unit">{escape(units.symbol(step.unit))}</span>' if step.unit else ""
    return (
        f'<div class="field"><label for="field-{step.name}">{escape(step.label)}</label>\n'
        f'<div class="entry">{_box(step.name, "", "decimal", "")}{unit}</div>\n'
        f'<p class="hint" id="hint-{step.name}"></p><p class="error" id="error-{step.name}" hidden></p></div>'
    )


def _box(name: str, value: str, keyboard: str, placeholder: str) -> str:
    shown = f' placeholder="{escape(placeholder)}"' if placeholder else ""
    return (
        f'<input id="field-{name}" name="{name}" value="{escape(value)}" inputmode="{keyboard}"{shown} autocomplete="off" '
        f'autocapitalize="off" spellcheck="false" aria-describedby="hint-{name} error-{name}">'
    )


def _placeholder(field: Input) -> str:
    return "" if field.default else field.example


def _select(field: Input) -> str:
    options = "".join(
        f'<option value="{escape(choice.value)}"{" selected" if choice.value == field.default else ""}>{escape(choice.label)}</option>'
        for choice in field.choices
    )
    options = '<option value="">(not chosen)</option>' + options
    return f'<select id="field-{field.name}" name="{field.name}" aria-describedby="hint-{field.name} error-{field.name}">{options}</select>'


def _units(field: Input, units: Units) -> str:
    """The unit beside a field, or a choice of units where there are several."""
    if not field.unit:
        return ""
    if not field.also:
        return f'<span class="unit">{escape(units.symbol(field.unit))}</span>'
    options = "".join(f'<option value="{escape(name)}">{escape(units.symbol(name))}</option>' for name in (field.unit, *field.also))
    return f'<select name="{field.name}-unit" aria-label="Unit of {escape(field.label.lower())}">{options}</select>'


def _hint(field: Input, units: Units) -> str:
    if field.type == "date":
        return "Year, month and day, such as 2026-11-25."
    if field.type == "list":
        return "Numbers with blanks between them, such as 0 4.2 8.9."
    if field.type == "counts":
        return "Counts and ranges of counts, such as 6-12 14 16."
    if field.type == "lost-train":
        return "Driver/driven, one after the other, with ? for what is lost, such as 84/7 ?/7."
    if field.type == "train":
        return "Driver/driven, one after the other, such as 84/7 78/7. Write ? for a lost count."
    if not field.usual:
        return ""
    return f"Usually {' to '.join(for_page(text) for text in field.usual)} {units.symbol(field.unit)}".rstrip() + "."
