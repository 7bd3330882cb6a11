"""What goes on paper: each sheet prints on one (or on as many sides as it says), each lesson on two (the questions on the second), its answers on one."""
from __future__ import annotations

from pathlib import Path

import pytest

from tests.browser.conftest import Visit
from tests.browser.test_pages import sheets

pytestmark = pytest.mark.browser

KB = Path(__file__).resolve().parent.parent.parent / "kb"
SHEETS = sorted(path.stem for path in (KB / "sheets").glob("*.yaml"))
LESSONS = sorted(path.stem for path in (KB / "lessons").glob("*.yaml"))


@pytest.mark.parametrize("id", SHEETS)
def test_a_sheet_prints_on_one(id: str, desk: Visit) -> None:
    sides = 1 + (KB / "sheets" / f"{id}.yaml").read_text(encoding="utf-8").count("new_side: true")
    assert sheets(desk.open(f"sheets/{id}/").pdf(format="A4")) == sides


@pytest.mark.parametrize("id", LESSONS)
def test_a_lesson_prints_on_two_and_its_answers_on_one(id: str, desk: Visit) -> None:
    assert sheets(desk.open(f"lessons/{id}/").pdf(format="A4")) == 2
    assert sheets(desk.open(f"lessons/answers/{id}/").pdf(format="A4")) == 1


def test_a_sheet_too_long_would_be_noticed(desk: Visit) -> None:
    page = desk.open("sheets/rate-log/")
    page.evaluate("document.querySelectorAll('.fill tbody tr').forEach(row => row.after(row.cloneNode(true)))")
    assert sheets(page.pdf(format="A4")) > 1


def test_the_numbers_of_the_questions_run_through(desk: Visit) -> None:
    page = desk.open("lessons/chiming/")
    starts = page.eval_on_selector_all("ol.asks", "lists => lists.map(list => [list.start, list.children.length])")
    assert len(starts) > 2
    assert [start for start, _ in starts] == [1 + sum(length for _, length in starts[:place]) for place in range(len(starts))]
