"""The knowledge base of the checkout, read once by each process of the tests; nobody changes it."""
from __future__ import annotations

from functools import cache

from build_tools.library import Library, read_library
from build_tools.problem import Problem


@cache
def read_once() -> tuple[Library, tuple[Problem, ...]]:
    """The library, and the problems that came up in reading it."""
    found, problems = read_library()
    return found, tuple(problems)
