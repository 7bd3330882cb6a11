"""The page of a likely cause of what an owner complains of, and the list of them by complaint."""

from __future__ import annotations

from typing import Any

from build_tools.model import Symptom
from build_tools.render.outcome import look_alikes, telling
from build_tools.render.view import View


def symptom(entry: Symptom, view: View) -> list[str]:
    """What happens and how it is told; cautions before anything is looked at or done, and where to stop right after."""
    return [
        f"{view.prose(entry.what)}\n{{: .lead }}\n",
        view.note(entry.basis),
        telling(entry, view),
        look_alikes(entry, view),
        view.cautions(entry.cautions),
        view.items("Safe looks", entry.looks),
        view.section("What an owner may do", entry.set),
        view.section("Where to stop", entry.stop),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def symptom_list(entries: tuple[Any, ...], view: View) -> str:
    """The complaints to choose from, then a heading for each, with its questions and its likely causes."""
    rows = [row for row in view.library.table("facets") if any(entry.facet == row.name for entry in entries)]
    choice = "".join(f"- [{row.says}](#{row.name})\n" for row in rows)
    return choice + "\n" + "\n".join(_complaint(row.says, row.name, [entry for entry in entries if entry.facet == row.name], view) for row in rows)


def _complaint(says: str, facet: str, entries: list[Symptom], view: View) -> str:
    causes = "".join(f"{view.link(entry.ref)}\n:   {view.plain_line(entry.what)}\n\n" for entry in entries)
    return f"## {says} {{#{facet}}}\n\n[Answer its questions one by one]({view.to(f'key/{facet}.md')}), or look through the likely causes:\n\n{causes}"
