"""Readings of a clock kept on the device: added by date, worked, drawn, still there after reloading, and saved as a file."""
from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Visit

pytestmark = pytest.mark.browser
PAGE = "calculations/rate-from-readings/"


def add(page: Page, at: str, error: str) -> None:
    page.locator('[data-part="at"]').fill(at)
    page.locator('[data-part="error"]').fill(error)
    page.get_by_role("button", name="Add this reading").click()


def test_readings_are_worked_drawn_and_kept(phone: Visit, tmp_path: Path) -> None:
    page = phone.open(PAGE)
    page.get_by_text("Readings kept on this device").click()
    for at, error in (("2026-11-03T08:00", "8.9"), ("2026-11-01T08:00", "0"), ("2026-11-02T08:00", "4.2")):
        add(page, at, error)
    expect(page.locator("#field-days")).to_have_value("0 1 2")
    expect(page.locator("#field-errors")).to_have_value("0 4.2 8.9")
    expect(page.locator(".answer dd").first).to_contain_text("4.45")
    assert page.locator(".readings svg circle").count() == 3
    page.reload()
    page.get_by_text("Readings kept on this device").click()
    assert page.locator('[data-part="rows"] li').count() == 3
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save as CSV").click()
    saving.value.save_as(tmp_path / "readings.csv")
    assert (tmp_path / "readings.csv").read_text(encoding="utf-8").splitlines()[1] == "2026-11-01T08:00,0,0"
    page.get_by_role("button", name="Forget them").click()
    expect(page.locator('[data-part="rows"] li')).to_have_count(0)


def test_a_reading_that_is_no_number_is_answered_and_kept_in_the_field(phone: Visit) -> None:
    page = phone.open(PAGE)
    page.get_by_text("Readings kept on this device").click()
    add(page, "2026-11-03T08:00", "much")
    expect(page.locator('[data-part="said"]')).to_contain_text("seconds ahead, such as 4.2")
    expect(page.locator('[data-part="error"]')).to_have_value("much")


def test_the_example_is_drawn(phone: Visit) -> None:
    page = phone.open(PAGE)
    page.get_by_role("button", name="Put in the example").click()
    assert page.locator(".readings svg circle").count() == 6
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
