"""Trade words open a preview in each way that a person may ask for it, and search knows the plain words."""
from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.audit import AXE
from tests.browser.conftest import Visit

pytestmark = pytest.mark.browser
PAGE = "calculations/beats-per-hour/"


def first_word(page: Page) -> Locator:
    word = page.locator("article a.word").first
    word.scroll_into_view_if_needed()
    return word


def definition(page: Page) -> Locator:
    return page.locator("#preview")


def test_a_tap_opens_the_definition_and_then_the_entry(phone: Visit) -> None:
    page = phone.open(PAGE)
    word = first_word(page)
    target = word.get_attribute("href")
    word.tap()
    expect(definition(page)).to_be_visible()
    expect(definition(page)).to_contain_text(word.get_attribute("data-says") or "no preview")
    assert page.url.endswith(PAGE), "the first tap stays on the page"
    definition(page).get_by_role("link").tap()
    expect(page).not_to_have_url(phone.address + PAGE)
    assert target and page.url.rstrip("/").endswith(target.strip("./"))


def test_a_tap_elsewhere_closes_it(phone: Visit) -> None:
    page = phone.open(PAGE)
    first_word(page).tap()
    expect(definition(page)).to_be_visible()
    page.get_by_role("heading", level=1).tap()
    expect(definition(page)).to_be_hidden()


def test_a_mouse_over_the_word_shows_it(desk: Visit) -> None:
    page = desk.open(PAGE)
    first_word(page).hover()
    expect(definition(page)).to_be_visible()
    page.mouse.move(5, 5)
    expect(definition(page)).to_be_hidden()


def test_the_keyboard_reaches_it_and_escape_closes_it(desk: Visit) -> None:
    page = desk.open(PAGE)
    word = first_word(page)
    for _ in range(200):
        page.keyboard.press("Tab")
        if word.evaluate("one => one === document.activeElement"):
            break
    expect(word).to_be_focused()
    expect(definition(page)).to_be_visible()
    described = word.get_attribute("aria-describedby")
    assert described and page.locator(f"#{described}").inner_text() in (word.get_attribute("data-says") or "")
    page.keyboard.press("Escape")
    expect(definition(page)).to_be_hidden()
    expect(word).to_be_focused()


@pytest.mark.parametrize(
    ("typed", "entry", "kind"),
    [
        ("gear", "terms/wheel/", "word"), ("escapment", "terms/escapement/", "word"), ("stops after a few minutes", "key/stops/", "key"),
        ("order of winding", "sayings/overwind-order/", "saying"),
    ],
)
def test_search_says_which_kind_of_page_it_found(typed: str, entry: str, kind: str, phone: Visit) -> None:
    page = phone.open()
    page.get_by_role("button", name="Search", exact=True).tap()
    page.get_by_role("searchbox").press_sequentially(typed)
    first = page.locator(".hits a").first
    expect(first).to_have_attribute("href", re.compile(re.escape(entry)))
    expect(first.locator(".hit-kind")).to_have_text(kind)
    first.tap()
    expect(page).to_have_url(re.compile(re.escape(entry)))


def test_search_by_keyboard_from_the_front_page_and_nothing_found_is_said(desk: Visit) -> None:
    page = desk.open()
    page.get_by_role("button", name="Type a word").click()
    page.keyboard.type("xqzv")
    expect(page.locator(".search-said")).to_contain_text("Nothing goes by that")
    page.keyboard.press("Control+a")
    page.keyboard.type("snail")
    expect(page.locator(".hits a").first).to_have_attribute("href", re.compile("terms/snail/"))
    page.keyboard.press("ArrowDown")
    expect(page.locator(".hits a").first).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.locator("dialog.search")).to_be_hidden()


def test_the_open_search_reads_well_for_everyone_and_fits_a_phone(phone: Visit) -> None:
    page = phone.open("terms/wheel/")
    page.get_by_role("button", name="Search", exact=True).tap()
    page.get_by_role("searchbox").press_sequentially("strikes the wrong hour")
    expect(page.locator(".hits a").nth(4)).to_be_visible()
    assert page.locator("dialog.search").evaluate("box => box.scrollWidth <= box.clientWidth")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        found = AXE.run(page)
        assert found.violations_count == 0, found.generate_report()
