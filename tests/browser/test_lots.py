"""The lot book on a phone: noted from the key, two hundred lots, exported, erased, and what a full device is told."""
from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.audit import AXE
from tests.browser.conftest import PHONE, Visit

pytestmark = pytest.mark.browser
MANY = """count => {
  const book = ClockRef.lots.here(new URL(document.querySelector('script[src*="js/lots.js"]').src + '/../../'));
  const part = { label: 'Trains', from: 'before the dial', where: 'from=dial-shut', verdict: 'Likely: going and strike.',
    ranking: [['going and strike', 'likely']], answers: [['winding-holes', 'How many winding holes?', 'two']] };
  for (let lot = 1; lot <= count; lot += 1) { book.note(String(lot), 'trains', part, 'backboard cut', new Date().toISOString()); }
  ClockRef.lotPage.show();
}"""


def note_from_key(page: Page, lot: str, remarks: str) -> None:
    page.locator(".live-key .choices button").first.tap()
    page.locator(".live-key .asked .choices button").first.tap()
    page.get_by_label("Lot number").fill(lot)
    page.get_by_label("Remarks").fill(remarks)
    page.get_by_role("button", name="Note it").tap()
    expect(page.locator(".note-lot [role=status]")).to_have_text(f"Lot {lot} is noted on this device.")


def test_a_lot_noted_from_the_key_stands_in_the_book_and_leads_back(phone: Visit) -> None:
    page = phone.open("key/trains/")
    note_from_key(page, "112", "pendulum missing")
    page.get_by_role("link", name="Open the lot book").tap()
    expect(page.locator(".lot-book .lead")).to_have_text("One lot is noted on this device.")
    page.locator("details.lot > summary").tap()
    expect(page.get_by_label("Remarks on lot 112")).to_have_value("pendulum missing")
    page.get_by_role("link", name="Open in the key").tap()
    expect(page).to_have_url(re.compile(r"/key/trains/#from="))
    expect(page.locator(".live-key .ranking > li").first).to_be_visible()


def test_the_sheet_for_an_expert_is_filled_from_the_answers_and_can_be_left_blank(phone: Visit) -> None:
    page = phone.open("key/trains/")
    note_from_key(page, "7", "hands bent")
    page.get_by_role("link", name="Fill in the sheet").tap()
    expect(page.locator(".filled")).to_contain_text("what you last answered")
    expect(page.locator(".from-key:visible li").first).to_be_visible()
    phone.open("lots/")
    page.locator("details.lot > summary").tap()
    page.get_by_role("link", name="Sheet for an expert").tap()
    expect(page.locator(".filled")).to_contain_text("lot 7")
    expect(page.locator(".filled")).to_contain_text("hands bent")
    page.get_by_role("button", name="Leave it blank").tap()
    expect(page.locator(".filled")).to_have_count(0)
    expect(page.locator(".from-key:visible")).to_have_count(0)


def test_two_hundred_lots_are_shown_exported_and_erased(phone: Visit, tmp_path: Path) -> None:
    page = phone.open("lots/")
    page.evaluate(MANY, 200)
    expect(page.locator("details.lot")).to_have_count(200)
    expect(page.locator(".lot-book .lead")).to_have_text("200 lots are noted on this device.")
    assert page.evaluate("document.scrollingElement.scrollWidth") <= PHONE["width"]
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save as CSV").tap()
    saved.value.save_as(tmp_path / "lots.csv")
    rows = list(csv.DictReader(io.StringIO((tmp_path / "lots.csv").read_text(encoding="utf-8-sig"))))
    assert [row["Lot"] for row in rows] == [str(lot) for lot in range(1, 201)]
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save as text").tap()
    saved.value.save_as(tmp_path / "lots.txt")
    assert (tmp_path / "lots.txt").read_text(encoding="utf-8").count("Lot ") == 200
    page.reload()
    expect(page.locator("details.lot")).to_have_count(200)
    page.get_by_role("button", name="Erase the whole book").tap()
    expect(page.locator("details.lot")).to_have_count(200)
    page.get_by_role("button", name="Erase every lot for good?").tap()
    expect(page.locator("details.lot")).to_have_count(0)
    page.reload()
    expect(page.locator(".lot-book .lead")).to_have_text("No lots are noted on this device.")


def test_one_lot_is_erased_and_a_remark_changed(phone: Visit) -> None:
    page = phone.open("lots/")
    page.evaluate(MANY, 2)
    page.locator("details.lot > summary").first.tap()
    page.get_by_label("Remarks on lot 1", exact=True).fill("weights not a pair")
    page.get_by_label("Remarks on lot 1", exact=True).blur()
    expect(page.locator(".lot-book > [role=status]")).to_contain_text("are kept")
    page.get_by_role("button", name="Erase this lot").first.tap()
    page.get_by_role("button", name="Erase it for good?").tap()
    expect(page.locator("details.lot")).to_have_count(1)


@pytest.mark.parametrize(("fault", "says"), [("QuotaExceededError", "no room left"), ("SecurityError", "refuses to keep")])
def test_a_device_that_is_full_or_refuses_says_so_where_it_is_noted(fault: str, says: str, own_phone: Visit) -> None:
    own_phone.page.add_init_script(f"Storage.prototype.setItem = function () {{ throw new DOMException('', '{fault}'); }};")
    page = own_phone.open("lots/")
    page.get_by_label("Lot number").fill("3")
    page.get_by_role("button", name="Note it").tap()
    expect(page.locator(".lot-book > [role=status]")).to_contain_text(says)
    expect(page.get_by_label("Lot number")).to_have_value("3")


def test_a_browser_that_keeps_nothing_at_all_says_so_and_the_key_goes_on(own_phone: Visit) -> None:
    refuse = "get() { throw new DOMException('', 'SecurityError'); }"
    own_phone.page.add_init_script(f"for (const name of ['localStorage', 'sessionStorage']) {{ Object.defineProperty(window, name, {{ {refuse} }}); }}")
    page = own_phone.open("lots/")
    expect(page.locator(".lot-book > [role=status]")).to_contain_text("refuses to keep")
    own_phone.open("key/trains/")
    for _ in range(2):
        page.locator(".live-key .choices button").first.tap()
    page.get_by_label("Lot number").fill("5")
    page.get_by_role("button", name="Note it").tap()
    expect(page.locator(".note-lot [role=status]")).to_contain_text("refuses to keep")


def test_what_is_half_typed_survives_a_reload_and_the_way_back(phone: Visit) -> None:
    page = phone.open("lots/")
    page.get_by_label("Lot number").fill("31")
    page.get_by_label("Remarks").fill("bell cracked")
    page.reload()
    expect(page.get_by_label("Remarks")).to_have_value("bell cracked")
    phone.open("key/")
    page.go_back()
    expect(page.get_by_label("Lot number")).to_have_value("31")
    phone.open("key/trains/")
    for _ in range(2):
        page.locator(".live-key .choices button").first.tap()
    page.get_by_label("Remarks").fill("no hood")
    page.reload()
    expect(page.get_by_label("Remarks")).to_have_value("no hood")
    expect(page.locator(".live-key .given select").first).to_be_visible()


def test_two_windows_show_one_book_and_neither_takes_words_from_the_other(phone: Visit) -> None:
    page = phone.open("lots/")
    page.evaluate(MANY, 1)
    page.locator("details.lot > summary").first.tap()
    remarks = page.get_by_label("Remarks on lot 1", exact=True)
    remarks.press_sequentially("dial chipped; ")
    other = page.context.new_page()
    other.goto(phone.address + "lots/")
    other.get_by_label("Lot number").fill("2")
    other.get_by_role("button", name="Note it").tap()
    expect(page.locator("details.lot")).to_have_count(2)
    remarks.press_sequentially("hands bent")
    remarks.blur()
    expect(remarks).to_have_value(re.compile("dial chipped; hands bent"))
    other.reload()
    other.locator("details.lot > summary").first.tap()
    expect(other.get_by_label("Remarks on lot 1", exact=True)).to_have_value(re.compile("dial chipped; hands bent"))
    other.close()


# Controls that a thumb would miss: lower or narrower than 44 px. Links within a sentence are left to the words around them.
TOO_SMALL = """() => [...document.querySelectorAll('main :is(button, a, input, textarea, select, summary), header :is(button, a)')].filter(one => {
  const box = one.getBoundingClientRect(), style = getComputedStyle(one);
  return box.width && style.visibility !== 'hidden' && !(one.matches('a') && style.display === 'inline') && (box.height < 43.9 || box.width < 43.9);
}).map(one => `${one.tagName} ${one.textContent.trim().slice(0, 30)} ${one.getBoundingClientRect().width} x ${one.getBoundingClientRect().height}`)"""


@pytest.mark.parametrize("path", ["key/", "key/trains/", "key/stops/", "lots/", "offline/", "by-ear/"])
def test_a_thumb_finds_every_control(path: str, phone: Visit) -> None:
    page = phone.open(path)
    if page.locator(".live-key").count():
        for _ in range(4):
            assert page.evaluate(TOO_SMALL) == []
            page.locator(".live-key .choices button").first.tap()
        assert {"inline-block"} == set(page.locator(".ranking > li > a").evaluate_all("links => links.map(one => getComputedStyle(one).display)"))
    if page.locator(".lot-book").count():
        page.evaluate(MANY, 2)
        page.locator("details.lot > summary").first.tap()
    assert page.evaluate(TOO_SMALL) == []


@pytest.mark.parametrize("dark", [False, True])
def test_the_book_with_its_lots_open_reads_well_for_everyone(dark: bool, visitor: Callable[..., Visit]) -> None:
    visit = visitor(color_scheme="dark" if dark else "light")
    page = visit.open("lots/")
    page.evaluate(MANY, 3)
    page.locator("details.lot > summary").first.tap()
    found = AXE.run(page)
    assert found.violations_count == 0, found.generate_report()
