"""The pages of the key: its front page and, for each facet, the live key; the charts stand in their own module."""

from __future__ import annotations

from build_tools.key import Key
from build_tools.key_answers import facets
from build_tools.key_chart import chart
from build_tools.key_reach import hidden_from
from build_tools.library import Library
from build_tools.model import Row, Symptom
from build_tools.render import key_numbers
from build_tools.render.key_chart import chart_page, chart_path
from build_tools.render.prose import escape
from build_tools.render.view import View

SCRIPTS = ("key-data.js", "key-pictures.js", "key-engine.js", "key-view.js", "lots.js", "lots-store.js", "lots-key.js", "key-page.js")


def pages(library: Library) -> dict[str, str]:
    """Markdown by path: ``key/index.md``, ``key/FACET.md`` and a chart ``key/FACET-VIEWPOINT.md`` wherever one can be drawn."""
    rows = facets(library)
    made = {"key/index.md": _front(rows, View(library, "key/index.md"))}
    for row in rows:
        made |= _facet_pages(row, library)
    return {**made, **key_numbers.pages(library)}


def _facet_pages(row: Row, library: Library) -> dict[str, str]:
    key = Key(library, row.name)
    charts = {place.name: chart(key, place.name) for place in library.table("viewpoints")}
    drawn = [place for place in library.table("viewpoints") if charts[place.name]]
    made = {chart_path(row.name, place.name): chart_page(key, row, place, charts[place.name], library) for place in drawn}
    return {f"key/{row.name}.md": _live(key, row, drawn, library), **made}


def _front(rows: tuple[Row, ...], view: View) -> str:
    complaints = {entry.facet for entry in view.library.of_kind("symptom") if isinstance(entry, Symptom)}
    items = _ways([row for row in rows if row.name not in complaints], view)
    wrong = _ways([row for row in rows if row.name in complaints], view)
    return f"""# What is this clock?

Say where you stand and what you see or hear; the key says what that makes likely, why, and what to look at next.
“Can’t tell” is always an answer. It weighs what you say and never calls anything certain.
{{: .lead }}

<ul class="ways doors" markdown="1">
{items}
<li markdown="1">[Numbers]({view.to(key_numbers.PAGE)}) Which standard counts fit what you counted and measured?</li>
</ul>

## My clock does …

<ul class="ways doors" markdown="1">
{wrong}
</ul>

How often each sign is met stands as {view.link('constant:frequency-words', 'words with their shares')}, how much each
answer counts and when the key stops as {view.link('constant:key-settings', 'a short list of numbers')}. How sure it is, and how often right, was
[measured]({view.to('how-sure.md')}).
At a viewing, ask before you wind, set or let off a clock that isn’t yours: questions that need leave are marked.
"""


def _ways(rows: list[Row], view: View) -> str:
    return "\n".join(f"<li markdown=\"1\">[{row.cells['label']}]({view.to(f'key/{row.name}.md')}) {escape(row.says)}</li>" for row in rows)


def _live(key: Key, row: Row, drawn: list[Row], library: Library) -> str:
    view = View(library, f"key/{row.name}.md")
    root = view.to("index.md").removesuffix("index.md")
    charts = "\n".join(f"- [{escape(place.says)}]({view.to(chart_path(row.name, place.name))})" for place in drawn)
    outcomes = "\n".join(f"- {view.link(outcome.ref)}" for outcome in key.facet.outcomes)
    hidden = _hidden(key, drawn, view)
    scripts = "\n".join(f'<script src="../{root}js/{name}" defer></script>' for name in SCRIPTS)
    return f"""# {escape(row.says)}

<div class="live-key" data-facet="{row.name}" data-root="../{root}">
<p>This page asks one question after another when scripts are allowed. Without them, take one of the charts below.</p>
</div>

## Without script, or on paper

The same questions as cards and as a chart for one sheet, by where you stand:

{charts}

## What it can tell apart

{outcomes}
{hidden}
{scripts}
"""


def _hidden(key: Key, places: list[Row], view: View) -> str:
    """What can't be told from each place, whatever is answered there."""
    names = {place.says: [view.link(key.facet.outcomes[index].ref) for index in hidden_from(key, place.name)] for place in places}
    lines = [f"- {escape(place)}: {', '.join(links)}" for place, links in names.items() if links]
    return "\n## What stays hidden\n\nFrom some places these can’t be told, whatever is answered:\n\n" + "\n".join(lines) + "\n" if lines else ""
