"""What all tests share: the checkout, its knowledge base read once, and its site built once."""
from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def root() -> Path:
    """The root of the checkout."""
    return ROOT


@pytest.fixture(scope="session")
def library():
    """The knowledge base of the checkout; read-only."""
    from build_tools.library import read_library

    found, problems = read_library(ROOT)
    assert not problems, "\n".join(str(problem) for problem in problems)
    return found
