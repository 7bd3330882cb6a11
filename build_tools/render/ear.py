"""What can be listened to: the melodies, the striking schemes, and the page that sets them side by side."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from html import escape as attribute

from build_tools.library import Library
from build_tools.model import Melody, Row
from build_tools.render.pictures import barrel_of
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View

PAGE = "by-ear.md"
OCCASIONS = {"first": "Quarter past", "half": "Half past", "third": "Quarter to", "hour": "The hour"}
_OF_MELODY = {"first": "first", "second": "half", "third": "third", "hour": "hour"}
_SCRIPTS = ("ear-data.js", "ear-score.js", "ear.js")


def melody(entry: Melody, view: View) -> list[str]:
    """The bells with their notes, what each quarter plays, by number, by note and by ear."""
    notes = {bell.id: bell.note for bell in entry.bells}
    rows = [[part.capitalize(), ", ".join(ids), _joined(_numbers(entry, ids)), _joined(_notes(entry, ids, notes))] for part, ids in entry.quarters.items()]
    bells = [[str(bell.id), _shown(bell.note)] for bell in entry.bells]
    return [
        f"{view.prose(entry.about)}\n{{: .lead }}\n",
        view.note(entry.basis),
        _hours(),
        _buttons(melody_scores(entry), low=entry.hour_note),
        barrel_of(entry),
        "## The bells\n\n" + table(["Bell", "Note"], bells, label="Bells"),
        "## The quarters\n\nBell 1 is the highest.\n\n" + table(["Quarter", "Phrases", "Bells", "Notes"], rows, label="Quarters"),
        f"The hour is struck on {_shown(entry.hour_note)}.\n" if entry.hour_note else "",
        view.section("Rights", entry.rights),
        view.prose(entry.note) + "\n" if entry.note else "",
        _scripts(view),
    ]


def _numbers(entry: Melody, ids: Iterable[str]) -> list[list[str]]:
    phrases = {phrase.id: phrase.bells for phrase in entry.phrases}
    return [[str(bell) for bell in phrases[name]] for name in ids]


def _notes(entry: Melody, ids: Iterable[str], notes: Mapping[int, str]) -> list[list[str]]:
    return [[_shown(notes[int(bell)]) for bell in phrase] for phrase in _numbers(entry, ids)]


def _joined(phrases: Iterable[Iterable[str]]) -> str:
    return " – ".join(" ".join(phrase) for phrase in phrases)


def _shown(note: str) -> str:
    return note.replace("#", "♯").replace("b", "♭")


def melody_scores(entry: Melody) -> dict[str, str]:
    """The score of each occasion; before the hour is counted the hour's melody plays."""
    notes = {bell.id: bell.note for bell in entry.bells}
    scores = {_OF_MELODY[part]: " | ".join(" ".join(notes[int(bell)] for bell in phrase) for phrase in _numbers(entry, ids)) for part, ids in entry.quarters.items()}
    return {**scores, "hour": f"{scores['hour']} | n"} if entry.hour_note and "hour" in scores else scores


def scheme_scores(row: Row) -> dict[str, str]:
    """The score of each occasion on which a scheme sounds, its bells as notes."""
    bells = {"h": row.cells.get("high", ""), "l": row.cells["low"]}
    told = {name: str(row.cells[name]) for name in OCCASIONS if row.cells.get(name)}
    return {name: ";".join(" ".join(bells.get(sign, sign) for sign in piece.split()) for piece in score.split(";")) for name, score in told.items()}


def _buttons(scores: Mapping[str, str], low: str = "", high: str = "") -> str:
    """A button for each occasion; hidden until the script runs, since without it they are silent."""
    made = "".join(f'<button type="button" data-score="{attribute(scores[name])}">{words}</button>' for name, words in OCCASIONS.items() if name in scores)
    return f'<div class="plays" data-low="{low}" data-high="{high}" hidden>{made}<p class="notes" aria-hidden="true"></p></div>\n'


def _hours() -> str:
    options = "".join(f'<option value="{hour}"{" selected" if hour == 3 else ""}>{hour}</option>' for hour in range(1, 13))
    return f'<p class="which-hour" hidden><label>Hour last struck <select class="hour">{options}</select></label></p>\n'


def _scripts(view: View) -> str:
    return "\n".join(f'<script src="../{view.to("js/" + name)}" defer></script>' for name in _SCRIPTS) + "\n"


def pages(library: Library) -> dict[str, str]:
    """The page By ear, on which every scheme and melody can be compared with what a clock was heard to do."""
    view = View(library, PAGE)
    schemes = "\n".join(_scheme(row, view) for row in library.table("striking-schemes"))
    melodies = "\n".join(f"### {view.link(entry.ref)}\n\n{_buttons(melody_scores(entry), low=entry.hour_note)}" for entry in library.of_kind("melody"))
    return {PAGE: f"""# By ear

What did the clock do? Choose the hour, tap a button, and compare. Tap again to stop. Nothing sounds until you tap; the tones are made on your device
and tell order and pitch, not the voice of a clock. The notes appear as they sound.
{{: .lead }}

{_hours()}
Best is to have heard a quarter past, a half and an hour: [what sounds on the hour]({view.to("questions/hour-sound.md")}), [at a quarter past]({view.to("questions/quarter-sound.md")}).
With what you heard the key tells [what counts the blows]({view.to("key/striking-control.md")}) and [what plays the quarters]({view.to("key/quarters.md")}).

## Striking

{schemes}
## Quarter melodies

Each is in the public domain, and said bell by bell on its page.

{melodies}
{_scripts(view)}"""}


def _scheme(row: Row, view: View) -> str:
    says = f"{view.prose(str(row.cells['about']))} {view.link(str(row.cells['word']), 'More')}."
    return f"### {escape(row.says)}\n\n{says}\n\n{_buttons(scheme_scores(row), row.cells['low'], row.cells.get('high', ''))}"


def generated_scripts(library: Library) -> dict[str, str]:
    """What the tones need to know: the pitch, the notes within a bell's note, and the pace."""
    partials = [{"ratio": float(row.value), "loudness": float(row.cells["loudness"]), "fades": float(row.cells["dies_away"])} for row in library.table("bell-partials")]
    data = {"pitch": float(library["constant:concert-pitch"].value), "partials": partials,
            "pace": {row.name: float(row.value) for row in library.table("striking-pace")}}
    return {"js/ear-data.js": f"var ClockRef=this.ClockRef||{{}};this.ClockRef=ClockRef;ClockRef.earData={json.dumps(data)};\n"}
