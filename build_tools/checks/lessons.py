"""Rules about the questions of lessons: whatever is asked must be answered by the entry that is named."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.library import Library
from build_tools.load import DataPath, field_name
from build_tools.model import Entry, Lesson, Outcome
from build_tools.model_parts import Ask
from build_tools.problem import Problem

WANTED = {
    "word": ("term",), "plain": ("term",), "difference": ("term", "train", "addon", "feature"),
    "tells": ("train", "addon", "feature"), "train": ("train", "addon", "feature"), "drive": ("addon",),
    "count": ("count",), "sum": ("calculation",), "saying": ("saying",), "quarters": ("melody",),
}


def check(library: Library) -> Iterator[Problem]:
    """Every question of every lesson has its answer."""
    for lesson in library.of_kind("lesson"):
        for number, ask in enumerate(lesson.asks):
            yield from unanswered(library, lesson, number, ask)


def unanswered(library: Library, lesson: Lesson, number: int, ask: Ask) -> Iterator[Problem]:
    """Entries that can't answer what is asked of them, or questions of the key that are not named or not answered."""
    if ask.kind in ("tells", "train") and not ask.by:
        yield _problem(library, lesson, ("asks", number), f"{ask.kind} needs the questions whose answers are used", "add `by:` with one or more questions of the key")
    for index, ref in enumerate(ask.of):
        entry = library.get(ref)
        if entry is not None and (why := _lacks(entry, ask)):
            yield _problem(library, lesson, ("asks", number, "of", index), f"{ref} {why}", "name another entry, or add to that one what is missing")


def _lacks(entry: Entry, ask: Ask) -> str:
    """What the entry has not got for this kind of question; "" when it has everything."""
    if entry.kind not in WANTED[ask.kind]:
        return f"is no {' or '.join(WANTED[ask.kind])}, which {ask.kind} asks about"
    if ask.kind == "plain" and not entry.plain:
        return "has no plain words"
    if ask.kind == "difference" and not (getattr(entry, "not_to_confuse", ()) or getattr(entry, "look_alikes", ())):
        return "names nothing that it is mistaken for"
    if ask.kind == "drive" and not entry.driven_by:
        return "does not say what drives it"
    silent = [ref for ref in ask.by if isinstance(entry, Outcome) and ref not in entry.told_by]
    return f"says nothing about {silent[0]}" if silent else ""


def _problem(library: Library, lesson: Lesson, path: DataPath, what: str, hint: str) -> Problem:
    file = library.file(lesson.ref)
    return Problem("KB090", file.place(*path), field_name(path, file.data), what, hint)
