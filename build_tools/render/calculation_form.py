"""The form of a calculation: a field for each input, and one for each result that may be given instead."""
from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from build_tools.calculate import units_of
from build_tools.number import for_page
from build_tools.plain_text import plain
from build_tools.units import Units, split_quantity

if TYPE_CHECKING:
    from build_tools.model import Calculation
    from build_tools.model_parts import Input, Step
    from build_tools.render.view import View

_HINTS = {
    "date": "Year, month and day, such as {}.",
    "list": "Numbers with blanks between them, such as {}.",
    "counts": "Counts and ranges of counts, such as {}.",
    "lost-train": "Driver/driven, one after the other, with ? for what is lost, such as {}.",
    "train": "Driver/driven, one after the other, such as {}. Write ? for a lost count.",
}


def form(entry: Calculation, view: View) -> str:
    """The form as HTML; hidden until the script that works it has come."""
    units = units_of(view.library)
    fields = "\n".join(_field(field, units) for field in entry.inputs)
    source = "; ".join(dict.fromkeys(view.library[item.source].name for item in entry.basis if item.source)) or "arithmetic"
    return f"""<form class="sum" data-sum="{entry.id}" data-limits="{_attribute(plain(entry.limits))}" data-source="{_attribute(source)}" novalidate hidden>
{_tapping(entry, view)}{fields}
{_known(entry, units)}<div class="row"><button type="submit">Work it out</button><button type="button" data-do="example" aria-label="Put in the example">Example</button><button type="button" data-do="clear">Clear</button></div>
<div class="answer" aria-live="polite"></div>
<div class="row after" hidden><button type="button" data-do="copy">Copy as text</button><button type="button" data-do="print">Print</button><span class="hint" role="status"></span></div>
{'<div class="fitting"></div>' if entry.tapped else ''}<div class="working"></div>
<div class="paper"></div>
{_readings(entry)}</form>
"""


def _tapping(entry: Calculation, view: View) -> str:
    """Where a visitor taps along with the clock; empty for a sum that nothing is tapped for."""
    if not entry.tapped:
        return ""
    into = " ".join(f'data-{name}="{getattr(entry.tapped, name)}"' for name in ("count", "time", "beats", "error"))
    return f"""<div class="tapping" {into} data-root="../{view.to("index.md").removesuffix("index.md")}" hidden>
<button type="button" class="tap">Tap here at every tick</button>
<div class="field"><label for="tap-step">Ticks from one tap to the next</label>
<div class="entry"><input id="tap-step" value="1" inputmode="numeric" autocomplete="off" aria-describedby="tap-hint"></div>
<p class="hint" id="tap-hint">1 for every tick, 2 or 4 for a fast clock; or count sixty in your head, write 60, and tap at the first and the last.</p></div>
<p class="hint" role="status"></p>
<div class="row"><button type="button" data-tap="again">Start again</button></div></div>
"""


def _known(entry: Calculation, units: Units) -> str:
    """The fields for results that may be given instead; what a procedure gives can't be turned round."""
    if entry.procedure:
        return ""
    known = "\n".join(_result_field(step, units) for step in entry.steps if _is_number(step))
    return f"""<details class="known"><summary>Work it backwards from a known result</summary>
<p class="hint">Write in the result that you know, and leave empty the one figure above that you look for. With nothing left empty, the two are compared.</p>
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


def _is_number(step: Step) -> bool:
    return '"' not in step.formula


def _field(field: Input, units: Units) -> str:
    number, unit = _example(field)
    control = _select(field) if field.type == "choice" else _box(field.name, field.default, _keyboard(field, unit), number)
    return _row(field.name, field.label, field.symbol, f"{control}{_units(field, units, unit)}", _hint(field, units))


def _result_field(step: Step, units: Units) -> str:
    unit = f'<span class="unit">{escape(units.symbol(step.unit))}</span>' if step.unit else ""
    return _row(step.name, step.label, step.symbol, f'{_box(step.name, "", "text", "")}{unit}', f'<p class="hint" id="hint-{step.name}"></p>')


def _row(name: str, label: str, sign: str, entry: str, hint: str) -> str:
    """One field: its label (on paper with its sign), what is typed or chosen, a hint, and the place for what is wrong."""
    head, _, foot = sign.partition("_")
    shown = f' <var>{escape(head)}{f"<sub>{escape(foot)}</sub>" if foot else ""}</var>' if head else ""
    return (
        f'<div class="field"><label for="field-{name}">{escape(label)}{shown}</label>\n'
        f'<div class="entry">{entry}</div>\n{hint}<p class="error" id="error-{name}" hidden></p></div>'
    )


def _box(name: str, value: str, keyboard: str, placeholder: str) -> str:
    return (
        f'<input id="field-{name}" name="{name}" value="{escape(value)}" inputmode="{keyboard}" placeholder="{escape(placeholder) or " "}" autocomplete="off" '
        f'autocapitalize="off" spellcheck="false" aria-describedby="hint-{name} error-{name}">'
    )


def _keyboard(field: Input, unit: str) -> str:
    """Digits alone where nothing else is wanted: a minus, a fraction of an inch and degrees with minutes need more."""
    if field.type == "whole":
        return "numeric"
    return "decimal" if field.type == "number" and unit == field.unit and not field.minimum.startswith("-") else "text"


def _example(field: Input) -> tuple[str, str]:
    """The example's number, and the unit that it is given in where the form offers that; what is preset is in the field's own unit."""
    if field.default:
        return field.default, field.unit
    pieces = split_quantity(field.example) if field.unit else []
    if len(pieces) == 1 and pieces[0][1] in (field.unit, *field.also):
        return pieces[0]
    return field.example, field.unit


def _select(field: Input) -> str:
    options = "".join(
        f'<option value="{escape(choice.value)}"{" selected" if choice.value == field.default else ""}>{escape(choice.label)}</option>'
        for choice in field.choices
    )
    options = '<option value="">(not chosen)</option>' + options
    return f'<select id="field-{field.name}" name="{field.name}" aria-describedby="hint-{field.name} error-{field.name}">{options}</select>'


def _units(field: Input, units: Units, chosen: str) -> str:
    """The unit beside a field, or a choice of units where there are several, beginning with that of the example."""
    if not field.unit:
        return ""
    if not field.also:
        return f'<span class="unit">{escape(units.symbol(field.unit))}</span>'
    options = "".join(f'<option value="{escape(name)}"{" selected" if name == chosen else ""}>{escape(units.symbol(name))}</option>' for name in (field.unit, *field.also))
    return f'<select name="{field.name}-unit" aria-label="Unit of {escape(field.label.lower())}">{options}</select>'


def _hint(field: Input, units: Units) -> str:
    usual = f' data-usual="{escape(" ".join(field.usual))}"' if field.usual and field.also else ""
    return f'<p class="hint" id="hint-{field.name}"{usual}>{escape(_hint_text(field, units))}</p>'


def _hint_text(field: Input, units: Units) -> str:
    if field.type in _HINTS:
        example = field.example or field.default
        return _HINTS[field.type].format(example) if example else _HINTS[field.type].partition(",")[0] + "."
    if not field.usual:
        return ""
    return f"Usually {' to '.join(for_page(text) for text in field.usual)} {units.symbol(field.unit)}".rstrip() + "."
