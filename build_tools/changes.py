"""What is different between two states of the knowledge base: the entries, the figures computed from them, and the pages."""
from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from build_tools.answer import answer
from build_tools.calculate import calculations, units_of
from build_tools.counts import results_for
from build_tools.library import Library
from build_tools.render import pages

NEW, GONE, CHANGED = "new", "gone", "changed"


@dataclass(frozen=True)
class Change:
    """One entry, figure or page: how it changed, and for an entry in which fields, for a figure from what to what."""
    what: str
    how: str
    fields: tuple[str, ...] = ()
    before: str = ""
    now: str = ""


def changed_entries(before: Library, now: Library) -> list[Change]:
    """Entries by reference; the fields are those of the file at its first level."""
    old, new = ({entry.ref: library.file(entry.ref).data for entry in library} for library in (before, now))
    return [Change(ref, how, _fields(old[ref], new[ref]) if how == CHANGED else ()) for ref, how in _compared(old, new)]


def changed_figures(before: Library, now: Library) -> list[Change]:
    """What the counts give and what the worked examples come to, as printed."""
    old, new = dict(_figures(before)), dict(_figures(now))
    return [Change(name, how, before=old.get(name, ""), now=new.get(name, "")) for name, how in _compared(old, new)]


def changed_pages(before: Library, now: Library) -> list[Change]:
    """Generated pages by their path; both libraries must have passed the check."""
    return [Change(path, how) for path, how in _compared(pages(before), pages(now))]


def _compared(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for name in sorted({*old, *new}):
        if name not in old or name not in new:
            yield name, GONE if name in old else NEW
        elif old[name] != new[name]:
            yield name, CHANGED


def _fields(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(name for name, _ in _compared(old, new))


def _figures(library: Library) -> Iterator[tuple[str, str]]:
    """Name and printed value: "count:x, Beats an hour" or "calculation:x, example, beats"."""
    units = units_of(library)
    for count in library.of_kind("count"):
        for each in results_for(count, library):
            yield f"{count.ref}, {each.label}", f"{each.shown} {units.symbol(each.unit)}".strip()
    for calculation in calculations(library):
        outcome = answer(calculation, {field.name: field.example for field in calculation.inputs}, library).outcome
        for name, result in outcome.results.items():
            yield f"{calculation.ref}, example, {name}", result.written(units)
