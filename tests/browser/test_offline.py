"""The site with the network off: a first visit saves it, and then the server is stopped for good."""
from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Visit
from tests.browser.network import Network

pytestmark = pytest.mark.browser
ALL_SAVED = re.compile(r"All [\d,]+ pages are saved on this device")


@pytest.fixture
def network(built_site: Path) -> Iterator[Network]:
    made = Network(built_site)
    yield made
    made.cut()


def saved_whole(visit: Visit, path: str = "") -> Page:
    page = visit.open(path)
    expect(page.locator(".imprint .saved")).to_have_text(ALL_SAVED, timeout=30_000)
    return page


def test_after_one_visit_everything_works_without_a_network(saver: Visit, network: Network) -> None:
    page = saved_whole(saver)
    network.cut()
    saver.open("terms/great-wheel/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Great wheel")
    saver.open("counts/")
    page.locator("article nav a").last.click()
    expect(page.locator("article .drawing").first).to_be_visible()
    page.get_by_role("button", name="Search", exact=True).tap()
    page.get_by_role("searchbox").press_sequentially("gear")
    expect(page.locator(".hits a").first).to_have_attribute("href", re.compile("terms/wheel/"))
    saver.open("calculations/beats-per-hour/")
    page.get_by_role("button", name="Put in the example").tap()
    expect(page.locator(".answer dd").first).to_be_visible()
    expect(page.get_by_role("heading", name="How the sum goes")).to_be_visible()
    saver.open("key/trains/")
    for _ in range(3):
        page.locator(".live-key .choices button").first.tap()
    expect(page.locator(".live-key .ranking > li").first).to_be_visible()


def test_an_address_that_does_not_exist_and_one_without_its_stroke_without_a_network(saver: Visit, network: Network) -> None:
    page = saved_whole(saver)
    network.cut()
    saver.foreseen = "404"  # said by the browser of the page that isn't there
    page.goto(saver.address + "terms/no-such-word/?q=x")
    expect(page.get_by_role("heading", level=1)).to_have_text("This page is not here")
    page.goto(saver.address + "terms/wheel?h=x")
    expect(page).to_have_url(saver.address + "terms/wheel/")


def test_the_page_about_it_says_what_is_saved(saver: Visit) -> None:
    page = saved_whole(saver, "offline/")
    expect(page.locator("article .lead")).to_contain_text("as of")


def test_a_page_not_yet_saved_is_said_to_be_so(saver: Visit, network: Network) -> None:
    saver.page.add_init_script("Object.defineProperty(navigator, 'connection', {value: {saveData: true}})")
    page = saver.open()
    expect(page.locator(".imprint .saved")).to_have_text(re.compile("The key, the sums and the names are saved"), timeout=30_000)
    network.cut()
    saver.foreseen = "ERR_FAILED"  # of the page itself, and of the font of the formulas, which comes with the rest
    page.goto(saver.address + "terms/great-wheel/")
    expect(page.locator(".missing")).to_contain_text("isn’t saved on this device yet")
    expect(page.get_by_role("link", name="Try it again")).to_have_attribute("href", saver.address + "terms/great-wheel/")
    saver.open("key/trains/")
    expect(page.locator(".live-key .choices button").first).to_be_visible()
    saver.open("calculations/motion-work/")
    page.get_by_role("button", name="Put in the example").tap()
    expect(page.locator(".answer dd").first).to_be_visible()
