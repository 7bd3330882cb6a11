"""One test for each entry of the knowledge base, such as term/great-wheel: it is sound, and has everything that its kind asks for."""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from pathlib import Path

import pytest

from build_tools.checks import run_checks
from build_tools.schema import FOLDERS, KIND_OF_FOLDER
from tests.knowledge import read_once

KB = Path(__file__).resolve().parent.parent / "kb"
FILES = [path for folder in sorted(FOLDERS.values()) for path in sorted((KB / folder).glob("*"))]


@cache
def problems_by_file() -> dict[str, list[str]]:
    """The lines of `check` for the real knowledge base, by file."""
    found: dict[str, list[str]] = defaultdict(list)
    for problem in run_checks(*read_once()):
        found[problem.place.path].append(f"{problem.place}: {problem.code} {problem.field}: {problem.what}; {problem.hint}")
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{KIND_OF_FOLDER[path.parent.name]}/{path.stem}")
def test_entry(path: Path) -> None:
    assert problems_by_file().get(path.relative_to(KB.parent).as_posix(), []) == []


def test_no_problem_lies_outside_the_entries() -> None:
    named = {path.relative_to(KB.parent).as_posix() for path in FILES}
    assert set(problems_by_file()) <= named


def test_every_kind_is_in_use() -> None:
    assert {path.parent.name for path in FILES} == set(FOLDERS.values())
