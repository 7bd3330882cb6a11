"""The page on which numbers are evidence: what was counted and measured, beside the standard counts."""

from __future__ import annotations

from html import escape as attribute

from build_tools.calculate import units_of
from build_tools.key_numbers_export import DATA
from build_tools.library import Library
from build_tools.model import Row
from build_tools.render.calculation_script import SCRIPT
from build_tools.render.prose import escape
from build_tools.render.view import View

PAGE = "key/by-number.md"
_SCRIPTS = ("js/number.js", "js/sums-evaluate.js", "js/sums-special.js", SCRIPT, "js/sums-spellings.js", "js/sums-units.js", "js/sums-solve.js", "js/sums-carried.js", "js/sums-answer.js",
            DATA, "js/key-numbers.js", "js/key-numbers-page.js")


def pages(library: Library) -> dict[str, str]:
    """The one page, by its path below the docs folder."""
    view = View(library, PAGE)
    rows = library.table("measured")
    fields = "\n".join(_field(row, library) for row in rows)
    scripts = "\n".join(f'<script src="../{view.to("index.md").removesuffix("index.md")}{name}" defer></script>' for name in _SCRIPTS)
    listed = "\n".join(f"- {escape(row.says)}{_allowed(row)}" for row in rows)
    return {PAGE: f"""# Numbers as evidence

Put in what you counted or measured; leave the rest empty. The [standard counts]({view.to('counts/index.md')}) answer: which fit, and which number contradicts them.
Numbers that contradict each other are how a movement and a pendulum, or a dial, that were never made for one another show.
{{: .lead }}

<form class="sum numbers" data-root="../{view.to("index.md").removesuffix("index.md")}" novalidate hidden>
{fields}
<div class="row"><button type="button" data-do="tap">Tap here at every tick</button><button type="button" data-do="clear">Clear</button></div>
<div class="answer" aria-live="polite"></div>
</form>

## What is taken

{listed}

How to count the beat stands under {view.link('measure:beats-by-tapping')}, where to measure from under {view.link('measure:effective-length')}. The sums behind it are
{view.link('calculation:beats-per-hour')}, {view.link('calculation:pendulum-from-beats')}, {view.link('calculation:escape-turn')} and {view.link('calculation:hours-of-run')}.
Touch the pendulum of a clock that isn’t yours with leave only.

A count that fits is not proved: many trains give the same beat. One that is contradicted by a pendulum alone may still be right where the pendulum was measured
to the end of the rod, or is a short one on a stiff spring.

{scripts}
"""}


def _field(row: Row, library: Library) -> str:
    unit = f'<span class="unit">{attribute(units_of(library).symbol(row.unit))}</span>' if row.unit else ""
    mode = "text" if row.unit == "mm" else "decimal"
    return (f'<div class="field"><label for="number-{row.name}">{attribute(row.says)}</label>\n'
            f'<div class="entry"><input id="number-{row.name}" name="{row.name}" inputmode="{mode}" autocomplete="off" aria-describedby="how-{row.name} error-{row.name}">{unit}</div>\n'
            f'<p class="hint" id="how-{row.name}">{attribute(str(row.cells["how"]))}</p><p class="error" id="error-{row.name}" hidden></p></div>')


def _allowed(row: Row) -> str:
    return f", which fits within {float(row.value):.0%}" if row.value else ""

