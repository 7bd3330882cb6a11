"""Pages of each layout and a sample of all: they fit a phone, read well for everyone, and print."""
from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import PHONE, Visit
from tests.browser.pages import VISITED, longest, page_of

pytestmark = pytest.mark.browser

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


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", VISITED)
def test_the_accessibility_rules_find_nothing(path: str, scheme: str, visitor: Callable[..., Visit]) -> None:
    page = visitor(color_scheme=scheme).open(path)
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


def test_dark_is_dark_and_light_is_light(visitor: Callable[..., Visit]) -> None:
    brightness = "getComputedStyle(document.body).backgroundColor.match(/[\\d.]+/g).slice(0, 3).reduce((sum, one) => sum + Number(one), 0) / 3"
    dark, light = (visitor(color_scheme=scheme).open().evaluate(brightness) for scheme in ("dark", "light"))
    assert dark < 80 and light > 200


def test_a_word_prints_on_one_sheet_without_the_navigation(desk: Visit) -> None:
    page = desk.open("terms/great-wheel/")
    page.emulate_media(media="print")
    assert page.get_by_role("heading", level=1).is_visible()
    assert not page.get_by_role("navigation").first.is_visible()
    assert sheets(page.pdf(format="A4")) == 1


def test_the_longest_calculation_prints_on_few_sheets(desk: Visit) -> None:
    page = desk.open(page_of(longest("calculations")))
    assert 1 <= sheets(page.pdf(format="A4")) <= 4


def sheets(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))
