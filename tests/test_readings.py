"""Readings with their dates: the lists they become, the file, and the line through the points."""
from __future__ import annotations

import csv
import io
import random
from datetime import datetime, timedelta
from pathlib import Path
from xml.etree import ElementTree

import pytest
from scipy.stats import linregress

from tests.javascript import Page

SCRIPT = Path(__file__).resolve().parent.parent / "docs" / "js" / "readings.js"
ROWS = [{"at": "2026-11-03T09:30", "error": "8.9"}, {"at": "2026-11-01T09:30", "error": "0"}, {"at": "2026-11-02T21:30", "error": "-4.25"}, {"at": "never", "error": "1"}, {"at": "2026-11-09T09:30", "error": "much"}]


@pytest.fixture(scope="module")
def readings(scripts: Page) -> Page:
    scripts.engine.eval(SCRIPT.read_text(encoding="utf-8"))
    return scripts


def test_readings_are_put_in_order_and_counted_from_the_first(readings: Page) -> None:
    assert readings.run("ClockRef.readings.asLists(data)", ROWS) == {"days": "0 1.5 2", "errors": "0 -4.25 8.9"}


def test_no_readings_give_empty_lists(readings: Page) -> None:
    assert readings.run("ClockRef.readings.asLists(data)", []) == {"days": "", "errors": ""}


def test_the_file_is_read_by_other_programs(readings: Page) -> None:
    rows = list(csv.DictReader(io.StringIO(readings.run("ClockRef.readings.asCsv(data)", ROWS), newline="")))
    assert [row["time"] for row in rows] == ["2026-11-01T09:30", "2026-11-02T21:30", "2026-11-03T09:30"]
    assert [float(row["seconds ahead"]) for row in rows] == [0, -4.25, 8.9]


@pytest.mark.parametrize("seed", range(5))
def test_the_line_is_that_of_scipy(seed: int, readings: Page) -> None:
    chance = random.Random(seed)
    points = [[day, chance.uniform(-9, 9)] for day in range(chance.randint(2, 30))]
    expected = linregress(*zip(*points))
    found = readings.run("ClockRef.readings.line(data[0], data[1])", [points, expected.slope])
    assert found["start"] == pytest.approx(expected.intercept, abs=1e-9)


@pytest.mark.parametrize("points", [[[0, 0], [1, 1]], [[0, 5], [3, 5], [9, 5]], [[0, -1e5], [0.001, 1e5]]])
def test_the_drawing_is_well_formed_and_holds_every_point(points: list[list[float]], readings: Page) -> None:
    drawn = ElementTree.fromstring(readings.run("ClockRef.readings.drawing(data, 1)", points))
    circles = [each for each in drawn.iter() if each.tag.endswith("circle")]
    assert len(circles) == len(points) and drawn.get("aria-label", "").startswith(f"{len(points)} readings")
    assert all(0 <= float(each.get("cx", "-1")) <= 328 and 0 <= float(each.get("cy", "-1")) <= 180 for each in circles)


def test_days_do_not_depend_on_the_hour_of_the_first_reading(readings: Page) -> None:
    start = datetime(2026, 3, 1, 18, 45)
    rows = [{"at": (start + timedelta(days=step)).isoformat(timespec="minutes"), "error": str(step)} for step in range(5)]
    assert readings.run("ClockRef.readings.asLists(data)", rows)["days"] == "0 1 2 3 4"
