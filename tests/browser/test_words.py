"""Trade words open a preview in each way that a person may ask for it, and search knows the plain words."""
from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

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


@pytest.mark.parametrize(("typed", "entry"), [("gear", "terms/wheel/"), ("cog", "terms/wheel/"), ("axle", "terms/arbor/"), ("grandfather clock", "terms/longcase/")])
def test_search_finds_the_trade_word_by_a_plain_one(typed: str, entry: str, phone: Visit) -> None:
    page = phone.open()
    page.get_by_role("button", name="Search", exact=True).tap()
    page.locator("input[name='query']").press_sequentially(typed)
    results = page.locator(".md-search-result__link")
    expect(results.first).to_be_visible()
    expect(results.first).to_have_attribute("href", re.compile(re.escape(entry)))
