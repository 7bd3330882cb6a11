"""The lot book in an embedded V8, with a store that can be full or refuse, and its exports read back by Python."""
from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from py_mini_racer import MiniRacer

JS = Path(__file__).resolve().parent.parent / "docs" / "js"
STORE = """
const kept = {};
let fault = "";
const refuse = () => { if (fault) { const error = new Error(fault); error.name = fault; throw error; } };
const store = { getItem: (name) => (name in kept ? kept[name] : null), setItem: (name, text) => { refuse(); kept[name] = text; }, removeItem: (name) => { delete kept[name]; } };
const book = new ClockRef.lots.Book(() => { if (fault === "SecurityError") refuse(); return store; }, "lots");
const tried = (act) => { try { return act(); } catch (error) { if (error instanceof ClockRef.lots.BookError) return { refused: error.message }; throw error; } };
"""
TRAINS = {
    "label": "Trains", "from": "before the dial, door shut", "where": "from=dial-shut", "verdict": "Likely: going and strike.",
    "ranking": [["going and strike", "likely"], ["going only", "possible"]], "answers": [["winding-holes", "How many winding holes?", "two"]],
}
DRIVE = {**TRAINS, "label": "Drive", "verdict": "Very likely: spring.", "ranking": [["spring", "very likely"]], "answers": [["weights", "Any weights?", "none, \"I think\""]]}
AT = "2026-05-09T10:00:00.000Z"


class Book:
    def __init__(self, engine: MiniRacer) -> None:
        self.engine = engine
        engine.eval((JS / "lots.js").read_text(encoding="utf-8"))
        engine.eval(STORE)

    def run(self, expression: str) -> Any:
        return json.loads(self.engine.eval(f"JSON.stringify(tried(() => ({expression})) ?? null)"))

    def note(self, lot: str, facet: str = "", part: dict | None = None, remarks: str = "") -> Any:
        return self.run(f"book.note({json.dumps(lot)}, {json.dumps(facet)}, {json.dumps(part)}, {json.dumps(remarks)}, {json.dumps(AT)})")


@pytest.fixture
def book() -> Iterator[Book]:
    with MiniRacer() as engine:
        yield Book(engine)


def test_lots_stand_in_the_order_of_their_numbers(book: Book) -> None:
    for lot in ("112", "20", "7a", " 7 "):
        book.note(lot)
    assert [one["lot"] for one in book.run("book.all()")] == ["7", "7a", "20", "112"]


def test_what_is_noted_of_one_lot_comes_together(book: Book) -> None:
    book.note("7A", "trains", TRAINS, "hands bent")
    book.note("7a", "drive", DRIVE, "ask to hear the quarter")
    book.note("7a", "drive", DRIVE, "hands bent")
    (lot,) = book.run("book.all()")
    assert set(lot["parts"]) == {"trains", "drive"}
    assert lot["remarks"] == "hands bent\nask to hear the quarter"


def test_remarks_can_be_changed_and_lots_erased(book: Book) -> None:
    book.note("1", remarks="x")
    book.note("2")
    book.run("book.remark('1', ' y ', 'x')")
    assert book.run("book.find('1').remarks") == "y"
    book.run("book.remove('1')")
    assert [one["lot"] for one in book.run("book.all()")] == ["2"]
    book.run("book.erase()")
    assert book.run("book.all()") == [] and book.run("kept") == {}


@pytest.mark.parametrize(("fault", "says"), [("QuotaExceededError", "no room left"), ("SecurityError", "refuses to keep")])
def test_a_full_or_refused_store_is_said_and_loses_nothing(fault: str, says: str, book: Book) -> None:
    book.note("1", remarks="kept")
    book.run(f"(fault = {json.dumps(fault)})")
    assert says in book.note("2")["refused"]
    book.run("(fault = '')")
    assert [one["remarks"] for one in book.run("book.all()")] == ["kept"]


@pytest.mark.parametrize("text", ["{", "{}", "7", '[{"lot": 7}]', "[null]"])
def test_a_book_that_cannot_be_read_is_said_and_not_written_over(text: str, book: Book) -> None:
    book.run(f"(kept.lots = {json.dumps(text)})")
    assert "can’t be read" in book.run("book.all()")["refused"]
    assert "can’t be read" in book.note("1")["refused"]
    assert book.run("kept.lots") == text


def test_a_lot_needs_a_number(book: Book) -> None:
    assert "Type its number" in book.note("  ", remarks="x")["refused"]


def test_a_spreadsheet_gets_back_what_was_typed(book: Book) -> None:
    remarks = 'says "eight-day", not sure;\nback, cut'
    book.note("112", "trains", TRAINS, remarks)
    book.note("118", "drive", DRIVE)
    rows = list(csv.DictReader(io.StringIO(book.run("ClockRef.lots.csv(book.all())"), newline="")))
    assert [row["Lot"] for row in rows] == ["112", "118"]
    assert rows[0]["Remarks"] == remarks and rows[0]["Noted"] == "2026-05-09"
    assert rows[0]["Trains"] == "Likely: going and strike." and rows[0]["Trains: ranking"] == "going and strike (likely); going only (possible)"
    assert rows[1]["Trains"] == "" and rows[1]["Drive: answers"] == 'Any weights? none, "I think"'


def test_what_two_windows_note_of_one_lot_is_kept_from_both(book: Book) -> None:
    book.note("1", remarks="hands bent")
    book.note("1", remarks="weights gone")
    book.run("book.remark('1', 'hands bent, dial chipped', 'hands bent')")
    assert book.run("book.find('1').remarks") == "hands bent, dial chipped\nhands bent\nweights gone"
    book.run("book.remove('1')")
    assert "erased in another window" in book.run("book.remark('1', 'late', 'x')")["refused"]
    assert book.run("book.all()") == []


@pytest.mark.parametrize(("said", "cell"), [
    ("=1+1", "'=1+1"), ("@SUM(A1)", "'@SUM(A1)"), ("-2 to 3 min a day", "'-2 to 3 min a day"), ("+ weights", "'+ weights"), ("=HYPERLINK(\"x\",\"y\")", "'=HYPERLINK(\"x\",\"y\")"),
    ("-3.5", "-3.5"), ("+4", "+4"), ("Uhr aus Österreich – „gut“", "Uhr aus Österreich – „gut“"), ("a = b", "a = b"),
])
def test_no_remark_becomes_a_formula_in_a_spreadsheet(said: str, cell: str, book: Book) -> None:
    book.note("1", remarks=said)
    (row,) = csv.DictReader(io.StringIO(book.run("ClockRef.lots.csv(book.all())"), newline=""))
    assert row["Remarks"] == cell


def test_the_text_can_be_read_aloud(book: Book) -> None:
    book.note("112", "trains", TRAINS, "hands bent\nask again")
    assert book.run("ClockRef.lots.text(book.all())").splitlines() == [
        "Lot 112 (noted 2026-05-09)", "  Trains (seen from: before the dial, door shut)", "    Likely: going and strike.",
        "    going and strike (likely); going only (possible)", "    - How many winding holes? two", "  Remarks: hands bent", "           ask again",
    ]


def test_two_hundred_lots_take_a_tenth_of_what_a_browser_allows(book: Book) -> None:
    many = {**TRAINS, "answers": [["q", "What kind of case is it, and how high does it stand?", "a wall clock with weights"]] * 12}
    book.run(f"Array.from({{length: 200}}, (_, at) => book.note(String(at + 1), 'trains', {json.dumps(many)}, 'x'.repeat(200), {json.dumps(AT)})).length")
    assert len(book.run("book.all()")) == 200
    assert len(book.run("kept.lots")) < 500_000  # browsers allow about five million characters
