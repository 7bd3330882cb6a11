"""Every rule for entries, in stages. A stage is a module with `check(library)`, which yields the problems that it finds."""

from __future__ import annotations

from typing import Iterable

from build_tools.checks import key, links, names, numbers, shape, sources
from build_tools.library import Library
from build_tools.problem import Problem, in_order

STAGES = (shape, names, links, sources, numbers, key)


def run_checks(library: Library, problems: Iterable[Problem] = ()) -> list[Problem]:
    """All problems in order: those that came up in reading the library, and those of every stage."""
    found = list(problems)
    for stage in STAGES:
        found.extend(stage.check(library))
    return in_order(found)
