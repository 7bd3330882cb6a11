"""Every rule for entries, in stages. A stage is a module with `check(library)`, which yields the problems that it finds."""

from __future__ import annotations

from typing import Iterable

from build_tools.checks import key, lessons, links, names, numbers, shape, sources
from build_tools.library import Library
from build_tools.problem import Problem, in_order

STAGES = (shape, names, links, sources, numbers, key, lessons)


def run_checks(library: Library, problems: Iterable[Problem] = ()) -> list[Problem]:
    """All problems in order: those that came up in reading the library, and those of every stage."""
    found = list(problems)
    for stage in STAGES:
        found.extend(stage.check(library))
    unfilled = {problem.place for problem in found if problem.code == "KB028"}  # dots are wrong in every other way, too
    loose = {problem.place.path for problem in found if problem.code == "KB039"}  # wheels that do not hang together give no figure
    return in_order(
        problem
        for problem in found
        if (problem.place not in unfilled or problem.code == "KB028") and (problem.place.path not in loose or problem.code != "KB056")
    )
