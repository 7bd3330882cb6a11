"""The page of one entry: what all kinds share, around what each kind says."""

from __future__ import annotations

import json
from typing import Any

from build_tools.library import Library
from build_tools.plain_text import plain
from build_tools.render.calculation import calculation
from build_tools.render.count import count
from build_tools.render.doing import measure, sheet
from build_tools.render.ear import melody
from build_tools.render.kinds import SECTIONS, page_path
from build_tools.render.lesson import lesson
from build_tools.render.outcome import outcome
from build_tools.render.plate import plate
from build_tools.render.prose import escape
from build_tools.render.question import question
from build_tools.render.reference import caution, constant, source
from build_tools.render.saying import saying
from build_tools.render.symptom import symptom
from build_tools.render.term import term
from build_tools.render.view import View

_BODIES = {
    "calculation": calculation, "term": term, "train": outcome, "addon": outcome, "feature": outcome, "symptom": symptom, "count": count, "question": question,
    "constant": constant, "melody": melody, "caution": caution, "source": source,
    "saying": saying, "measure": measure, "lesson": lesson, "sheet": sheet, "plate": plate,
}
_STATUS = {"draft": "Draft: nobody but its writer has looked it over yet.", "retired": "Retired."}


def entry_page(entry: Any, library: Library) -> str:
    """The whole Markdown page of an entry."""
    view = View(library, page_path(entry.ref))
    body = _BODIES[entry.kind](entry, view)
    parts = [_front_matter(entry), _heading(entry), _status(entry, view), *body, _see(entry, view), _used_by(entry, view)]
    return "\n".join(part for part in parts if part)


def _heading(entry: Any) -> str:
    return f"# {escape(entry.name[:1].upper() + entry.name[1:])}\n"


def _status(entry: Any, view: View) -> str:
    words = _STATUS.get(entry.status, "")
    if entry.status == "retired" and entry.replaced_by:
        words += f" See {view.link(entry.replaced_by)} instead."
    return f"{words}\n{{: .kind }}\n" if words else ""


def _see(entry: Any, view: View) -> str:
    refs = [ref for ref in entry.see if ref != entry.ref]
    return f"## See also\n\n{view.links(refs)}\n" if refs else ""


def _used_by(entry: Any, view: View) -> str:
    """Every entry that points here and isn't named above, kind by kind, folded up."""
    shown = {*entry.see, *getattr(entry, "counts", ()), *getattr(entry, "calculations", ())}
    refs = [ref for ref in view.library.used_by(entry.ref) if ref not in shown]
    rows = []
    for kind, section in SECTIONS.items():
        of_kind = [ref for ref in refs if ref.startswith(kind + ":")]
        if of_kind:
            rows.append(f"{section.title}\n:   {view.links(of_kind)}\n")
    summary = f"<summary>Named by {len(refs)} other page{'s' if len(refs) > 1 else ''}</summary>"
    return f'<details class="back-links" markdown="1">{summary}\n\n' + "\n".join(rows) + "\n</details>\n" if rows else ""


def _front_matter(entry: Any) -> str:
    """The section it belongs to, and a term as structured data for search engines."""
    section = SECTIONS[entry.kind]
    meta: dict[str, Any] = {"section": {"folder": section.folder, "title": section.title}}
    if entry.kind == "term":
        meta["description"] = " ".join(plain(entry.definition).split())
        meta["data"] = {
            "@context": "https://schema.org", "@type": "DefinedTerm", "name": entry.word,
            "alternateName": [*entry.also, *entry.american], "description": meta["description"],
        }
    lines = [f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in meta.items()]
    return "---\n" + "\n".join(lines) + "\n---\n"
