"""Whole tables from books, kept row by row as they are printed, each judged by our own calculations.

A folder of `tests/evidence/` holds the tables of one source: a CSV file for each, and `tables.toml`, which says what
each column is and which calculation judges it. A judged column `x` has the columns `x verdict`, `x because` and, where
more than half a unit of the last digit is allowed, `x tolerance` behind it.
"""
from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from build_tools.model_parts import Figure
from build_tools.published import Judgement, judge

if TYPE_CHECKING:
    from build_tools.library import Library

FOLDER = "tests/evidence"
VERDICTS = ("agrees", "cut off", "rounded up", "slip", "misprint", "rounded name", "rule of thumb", "other constant")
"""What a row can be called; all but the first must differ from our figure by more than half a unit of the last digit."""
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3})")


@dataclass(frozen=True)
class Column:
    """A judged column: the calculation, what goes into it, the result it is set beside, and its value as it is read.

    `given`, `value` and `printed` may name columns of the row in braces: "{beats}", "{length} in".
    """
    name: str
    calculation: str
    result: str
    given: Mapping[str, str]
    value: str
    printed: str


@dataclass(frozen=True)
class Table:
    """One printed table; `named_by` is the column that tells its rows apart, `says` what each column is."""
    id: str
    source: str
    title: str
    place: str
    note: str
    named_by: str
    says: Mapping[str, str]
    columns: tuple[Column, ...]
    rows: tuple[Mapping[str, str], ...]


def read_tables(root: Path) -> tuple[Table, ...]:
    """All tables below `root`, by source and in the order of their files."""
    return tuple(table for path in sorted((root / FOLDER).glob("*/tables.toml")) for table in _read_folder(path))


def _read_folder(path: Path) -> Iterator[Table]:
    for id, told in tomllib.loads(path.read_text(encoding="utf-8")).items():
        with (path.parent / f"{id}.csv").open(encoding="utf-8", newline="") as file:
            rows = tuple(csv.DictReader(file))
        columns = tuple(
            Column(name, f"calculation:{column['calculation']}", column["result"], column["given"], column.get("value", own), column.get("printed", own))
            for name, column in told["judged"].items() for own in [f"{{{name}}}"]
        )
        yield Table(id, f"source:{path.parent.name}", told["title"], told["place"], told.get("note", ""), told["named_by"], told["columns"], columns, rows)


def given_of(column: Column, row: Mapping[str, str]) -> dict[str, str]:
    """What the calculation is given for this row."""
    return {name: _filled(text, row) for name, text in column.given.items()}


def figure_of(column: Column, row: Mapping[str, str]) -> Figure:
    """The printed figure of this row, with its verdict; one that agrees has none."""
    verdict = row[f"{column.name} verdict"]
    return Figure(
        printed=column.printed.format_map(row), value=_filled(column.value, row), tolerance=row.get(f"{column.name} tolerance", ""),
        because=row.get(f"{column.name} because", ""), verdict="" if verdict == VERDICTS[0] else verdict,
    )


def _filled(text: str, row: Mapping[str, str]) -> str:
    return text.format_map({name: _THOUSANDS.sub("", cell) for name, cell in row.items() if cell is not None})


def judged(table: Table, row: Mapping[str, str], library: Library) -> Iterator[tuple[Column, Judgement]]:
    """Every figure of a row that is filled, beside what the calculation gives."""
    for column in table.columns:
        if row[column.name]:
            found = judge(library[column.calculation], given_of(column, row), {column.result: figure_of(column, row)}, library)
            yield column, next(found)
