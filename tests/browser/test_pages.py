"""Pages of each layout and a sample of all: they fit a phone, read well for everyone, and print."""
from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page

from tests.browser.audit import ABOUT_COLOUR, AXE
from tests.browser.conftest import PHONE, Visit
from tests.browser.pages import VISITED, longest, page_of

pytestmark = pytest.mark.browser

MARGINS = {side: "12mm" for side in ("top", "right", "bottom", "left")}

# Whatever reaches beyond the screen, and cannot be scrolled to inside its own box, with a word on what it is.
TOO_WIDE = """width => [...document.body.querySelectorAll('*')].filter(one => {
  const box = one.getBoundingClientRect();
  if (box.width === 0 || box.right <= width + 0.5) { return false; }
  for (let outer = one; outer; outer = outer.parentElement) {
    const style = getComputedStyle(outer);
    if (style.visibility === 'hidden' || (outer !== one && ['auto', 'scroll'].includes(style.overflowX))) { return false; }
  }
  return true;
}).map(one => one.tagName.toLowerCase() + '.' + one.getAttribute('class') + ': ' + one.textContent.trim().slice(0, 40))"""


@pytest.mark.parametrize("path", VISITED)
def test_nothing_overflows_a_phone(path: str, phone: Visit) -> None:
    page = phone.open(path)
    assert page.evaluate("document.scrollingElement.scrollWidth") <= PHONE["width"]
    assert page.evaluate(TOO_WIDE, PHONE["width"]) == []


def test_an_overflow_would_be_noticed(phone: Visit) -> None:
    page = phone.open()
    page.evaluate("document.querySelector('main, article, body').insertAdjacentHTML('beforeend', '<p style=\"width:500px\">too wide</p>')")
    assert any("too wide" in one for one in page.evaluate(TOO_WIDE, PHONE["width"]))


BRIGHTNESS = "getComputedStyle(document.body).backgroundColor.match(/[\\d.]+/g).slice(0, 3).reduce((sum, one) => sum + Number(one), 0) / 3"


def go_dark(page: Page) -> None:
    page.emulate_media(color_scheme="dark")
    page.wait_for_function(f"{BRIGHTNESS} < 80")


@pytest.mark.parametrize("path", VISITED)
def test_the_accessibility_rules_find_nothing_light_or_dark(path: str, phone: Visit) -> None:
    page = phone.open(path)
    assert page.evaluate(BRIGHTNESS) > 200
    light = AXE.run(page)
    assert light.violations_count == 0, light.generate_report()
    go_dark(page)
    dark = AXE.run(page, options=ABOUT_COLOUR)
    assert dark.violations_count == 0, dark.generate_report()


def test_a_picture_without_words_and_a_word_too_faint_would_be_noticed(phone: Visit) -> None:
    page = phone.open()
    page.evaluate("document.querySelector('article').insertAdjacentHTML('afterbegin', '<img src=favicon.svg><p style=\"color:#444\">faint</p>')")
    assert "image-alt" in {one["id"] for one in AXE.run(page).response["violations"]}
    go_dark(page)
    assert "color-contrast" in {one["id"] for one in AXE.run(page, options=ABOUT_COLOUR).response["violations"]}


def test_a_request_to_elsewhere_would_be_noticed_and_gets_nowhere(phone: Visit) -> None:
    """This machine under another name would answer if it were asked."""
    page = phone.open()
    elsewhere = page.url.replace("127.0.0.1", "localhost")
    phone.foreseen = "ERR_NAME_NOT_RESOLVED"
    assert page.evaluate("url => fetch(url, {mode: 'no-cors'}).then(() => 'answered', () => 'not reached')", elsewhere) == "not reached"
    assert phone.faults == [f"{page.url}: asked for {elsewhere}"]
    phone.faults.clear()


def test_an_error_of_a_script_would_be_noticed(phone: Visit) -> None:
    phone.open().evaluate("() => new Promise((done) => { setTimeout(() => { setTimeout(done); throw new Error('spoilt'); }); })")
    assert len(phone.faults) == 1 and "spoilt" in phone.faults[0]
    phone.faults.clear()


def test_a_window_is_left_as_it_was_found(phone: Visit) -> None:
    keeps = "() => [localStorage.length, sessionStorage.length, matchMedia('(prefers-color-scheme: dark)').matches, matchMedia('print').matches]"
    page = phone.open()
    page.evaluate("() => { localStorage.setItem('a', 'b'); sessionStorage.setItem('c', 'd'); }")
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate(keeps) == [1, 1, True, True]
    phone.leave()
    assert phone.open().evaluate(keeps) == [0, 0, False, False]


def test_a_word_prints_on_one_sheet_without_the_navigation(desk: Visit) -> None:
    page = desk.open("terms/great-wheel/")
    page.emulate_media(media="print")
    assert page.get_by_role("heading", level=1).is_visible()
    assert not page.get_by_role("navigation").first.is_visible()
    assert sheets(page.pdf(format="A4", margin=MARGINS)) == 1


def test_the_longest_calculation_prints_on_one_sheet(desk: Visit) -> None:
    page = desk.open(page_of(longest("calculations")))
    assert sheets(page.pdf(format="A4", margin=MARGINS)) == 1


def sheets(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))
