"""A lesson: the handout with its questions, the answer sheet, and the list of the course."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from build_tools.library import Library
from build_tools.model import Lesson
from build_tools.render.lesson_questions import Group, Item, groups
from build_tools.render.lists import numbered
from build_tools.render.prose import escape
from build_tools.render.view import View


def answers_path(entry: Lesson) -> str:
    """Path of the answer sheet below the docs folder."""
    return f"lessons/answers/{entry.id}.md"


def lesson(entry: Lesson, view: View) -> list[str]:
    """The handout on the first sheet, the questions on the second."""
    return [
        f"{view.prose(entry.aim)}\n{{: .lead }}\n",
        view.note(entry.basis),
        view.cautions(entry.cautions),
        f"*On the table:* {view.prose(entry.bring)}\n",
        *(f"## {escape(part.title)}\n\n{view.cautions(part.cautions)}\n{view.prose(part.text)}\n" for part in entry.parts),
        view.section("Together", entry.together),
        "## Questions {: .next-sheet }\n\n" + _numbered(groups(entry, view), answered=False),
        f"[Answers to lesson {entry.order}]({view.to(answers_path(entry))})\n{{: .answers-link }}\n",
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def answer_pages(library: Library) -> dict[str, str]:
    """The answer sheet of every lesson by its path."""
    return {answers_path(entry): _answers(entry, library) for entry in library.of_kind("lesson")}


def _answers(entry: Lesson, library: Library) -> str:
    view = View(library, answers_path(entry))
    back = f"Made from the same entries as [the lesson]({view.to(f'lessons/{entry.id}.md')}); a corrected entry corrects both.\n"
    return f"# Answers: {escape(entry.name)}\n\n{back}\n" + _numbered(groups(entry, view), answered=True)


def _numbered(found: Iterable[Group], answered: bool) -> str:
    """The groups with their questions numbered through; in an answer sheet each number with its answer."""
    parts, number = [], 1
    for group in found:
        bank = f"*{escape(' · '.join(group.bank))}*\n" if group.bank and not answered else ""
        items = [_answer(item) if answered else item.asks for item in group.items]
        parts.append(f"### {group.says}\n\n{bank}\n" + numbered(items, number, "answers" if answered else "asks"))
        number += len(items)
    return "\n".join(parts)


def _answer(item: Item) -> str:
    if not item.short:
        return item.answer
    colon = "" if re.search(r"[.?!](\]\(\S*\))?$", item.short) else ":"
    return f"{item.short}{colon} {item.answer}"


def lesson_list(entries: Sequence[Lesson], view: View) -> str:
    """The lessons in order, each with its aim and its answer sheet."""
    rows = []
    for entry in sorted(entries, key=lambda one: one.order):
        answers = f"[Answers]({view.to(answers_path(entry))})"
        rows.append(f"{entry.order}. {view.link(entry.ref)}\n:   {view.plain_line(entry.aim)} {answers}\n")
    return "\n".join(rows)
