"""Tables of `tests/evidence/`: each printed row is one test, in Python and in the page's scripts, from the same calculation."""
from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest

from build_tools.answer import answer
from build_tools.evidence import FOLDER, VERDICTS, Table, given_of, judged, read_tables
from build_tools.library import Library
from build_tools.number import as_float, read_number
from tests.javascript import Page

ROOT = Path(__file__).resolve().parent.parent
TABLES = read_tables(ROOT)
ROWS = [
    pytest.param(table, row, id=f"{table.source.removeprefix('source:')}/{table.id}#{row[table.named_by].replace(',', '')}")
    for table in TABLES for row in table.rows
]
Key = tuple[str, str, str, str]


def key(table: Table, row: Mapping[str, str], column: str) -> Key:
    return table.source, table.id, row[table.named_by], column


@pytest.fixture(scope="module")
def page_answers(scripts: Page) -> dict[Key, Mapping[str, object]]:
    """What the page's scripts answer to every judged figure, all asked in one go."""
    asked = [(key(table, row, column.name), column, row) for table in TABLES for row in table.rows for column in table.columns if row[column.name]]
    typed = [[column.calculation.removeprefix("calculation:"), given_of(column, row)] for _, column, row in asked]
    answers = scripts.run("data.map(([id, typed]) => answered(id, typed))", typed)
    return {name: found for (name, *_), found in zip(asked, answers)}


@pytest.mark.parametrize(("table", "row"), ROWS)
def test_row(table: Table, row: Mapping[str, str], library: Library, page_answers: Mapping[Key, Mapping[str, object]]) -> None:
    found = list(judged(table, row, library))
    assert found
    for column, judgement in found:
        assert judgement.sound, judgement
        assert judgement.agrees or judgement.verdict, judgement
        here = answer(library[column.calculation], given_of(column, row), library)
        there = page_answers[key(table, row, column.name)]
        assert there["shown"] == dict(here.outcome.shown)
        if column.result in here.inputs:
            assert there["inputs"][column.result] == here.written(column.result)
        else:
            assert float(read_number(there["values"][column.result])) == pytest.approx(as_float(here.outcome.values[column.result]), rel=1e-11)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: f"{table.source.removeprefix('source:')}/{table.id}")
def test_table_is_told(table: Table, library: Library) -> None:
    """Every column is explained, every verdict is one of the words, and whatever is out of the ordinary says why."""
    assert table.source in library and table.place
    extras = {f"{column.name} {what}" for column in table.columns for what in ("verdict", "because", "tolerance")}
    assert set(table.rows[0]) - extras == set(table.says)
    assert max(Counter(row[table.named_by] for row in table.rows).values()) == 1
    for row in table.rows:
        for column in table.columns:
            verdict, because, tolerance = (row.get(f"{column.name} {what}", "") for what in ("verdict", "because", "tolerance"))
            assert (verdict in VERDICTS) == bool(row[column.name])
            assert because or not (tolerance or verdict in ("misprint", "other constant", "rule of thumb", "rounded name"))
            assert not tolerance or verdict == VERDICTS[0]


def test_every_file_is_used() -> None:
    read = {f"{table.source.removeprefix('source:')}/{table.id}" for table in TABLES}
    assert {path.relative_to(ROOT / FOLDER).with_suffix("").as_posix() for path in (ROOT / FOLDER).glob("*/*.csv")} == read
    assert all((ROOT / FOLDER / table.source.removeprefix("source:") / "README.md").is_file() for table in TABLES)
