"""The page of a word."""

from __future__ import annotations

from build_tools.model import Term
from build_tools.render.pictures import pictures_of
from build_tools.render.plate import plates_with
from build_tools.render.prose import escape
from build_tools.render.view import View

LANGUAGES = {"de": "German", "fr": "French", "it": "Italian", "nl": "Dutch", "es": "Spanish", "da": "Danish", "sv": "Swedish", "la": "Latin"}


def term(entry: Term, view: View) -> list[str]:
    """Definition first, then every other name it goes by, then where it is and what it is not."""
    return [
        f"{view.prose(entry.definition)}\n{{: .lead }}\n",
        view.note(entry.basis),
        _names(entry),
        pictures_of(entry.ref, view),
        plates_with(entry.ref, view),
        view.cautions(entry.cautions),
        view.section("Where it is", entry.where),
        view.prose(entry.note) + "\n" if entry.note else "",
        _not_to_confuse(entry, view),
        _languages(entry, view),
    ]


def _names(entry: Term) -> str:
    """The other names in print, so that a reader and the search both find them."""
    also = [name for name in entry.also if name not in entry.american]
    plain = [name for name in entry.plain if name not in (*entry.also, *entry.american)]
    rows = {"Also": also, "American": entry.american, "In plain words": plain}
    lines = [f"{what}\n:   {escape(', '.join(names))}\n" for what, names in rows.items() if names]
    return '<div class="names" markdown="1">\n\n' + "\n".join(lines) + "\n</div>\n" if lines else ""


def _not_to_confuse(entry: Term, view: View) -> str:
    rows = [f"{view.link(row.with_)}\n:   {view.prose(row.why)}\n" for row in entry.not_to_confuse]
    return "## Not to be confused with\n\n" + "\n".join(rows) if rows else ""


def _languages(entry: Term, view: View) -> str:
    found = entry.languages
    if found is None:
        return ""
    rows = [f'{LANGUAGES[code]}\n:   <span lang="{code}">{escape(", ".join(words))}</span>\n' for code, words in found.words.items()]
    note = view.prose(found.note) + "\n" if found.note else ""
    return "## In other languages\n\n" + view.note(found.basis) + '\n<div class="names" markdown="1">\n\n' + "\n".join(rows) + "\n</div>\n" + note
