"""The first set that a visit saves, on a host where the site lies in a folder: how much travels, and that key, sums and names then need no network."""
from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from build_tools.key_answers import facets
from build_tools.library import Library
from tests.browser.conftest import Visit
from tests.browser.network import Network

pytestmark = pytest.mark.browser
BUDGET = 250_000  # bytes
FIRST = re.compile("^The key, the sums and the names are saved")
LITTLE = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"  # then the rest is not fetched by itself
# Each page with all scripts that it names, as a window without a network gets them: whatever is not answered.
NOT_ANSWERED = """async paths => {
  const root = new URL(document.querySelector('link[rel=manifest]').href), missing = [], asked = new Set();
  const text = async (url) => {
    if (asked.has(url.href)) { return ''; }
    asked.add(url.href);
    const answer = await fetch(url).catch(() => null);
    if (!answer || !answer.ok) { missing.push(url.pathname); return ''; }
    return answer.text();
  };
  for (const path of paths) {
    const page = new URL(path, root);
    const parsed = new DOMParser().parseFromString(await text(page), 'text/html');
    if (!parsed.querySelector('form.sum, .live-key')) { missing.push(`${path}: neither form nor key`); }
    for (const script of parsed.querySelectorAll('script[src], link[rel=stylesheet]')) { await text(new URL(script.getAttribute('src') || script.getAttribute('href'), page)); }
  }
  return missing;
}"""


@pytest.fixture
def network(built_site: Path, tmp_path: Path) -> Iterator[Network]:
    (tmp_path / "clocks").symlink_to(built_site, target_is_directory=True)
    made = Network(tmp_path)
    yield made
    made.cut()


@pytest.fixture
def frugal(saver: Visit) -> Visit:
    """A phone with a limit on data, so that after the first set it waits to be asked."""
    saver.page.add_init_script(LITTLE)
    saver.address += "clocks/"
    return saver


def saved_first(visit: Visit, path: str = "") -> Page:
    page = visit.open(path)
    expect(page.locator(".imprint .saved")).to_have_text(FIRST, timeout=60_000)
    return page


@pytest.mark.parametrize("path", ["", "terms/great-wheel/"])
def test_a_first_visit_keeps_to_its_budget_as_it_travels(path: str, frugal: Visit, network: Network) -> None:
    saved_first(frugal, path)
    assert len({one.path for one in network.sent}) > 15, "page, styles, scripts and a pack have been counted"
    assert sum(one.compressed for one in network.sent) <= BUDGET, sorted((one.compressed, one.path) for one in network.sent)[-8:]


def test_with_the_first_set_alone_key_sums_and_names_need_no_network(frugal: Visit, network: Network, library: Library) -> None:
    page = saved_first(frugal, "terms/great-wheel/")
    network.cut()
    frugal.foreseen = "ERR_FAILED"  # of the texts that the search also asks for, and of the font of the formulas: they come with the rest
    sums = [f"calculations/{one.id}/" for one in library.of_kind("calculation")]
    assert page.evaluate(NOT_ANSWERED, [*sums, *(f"key/{row.name}/" for row in facets(library))]) == []
    frugal.open("calculations/beats-per-hour/")
    page.get_by_role("button", name="Put in the example").tap()
    expect(page.locator(".answer dd").first).to_be_visible()
    for path in ("key/trains/", "key/stops/"):
        frugal.open(path)
        for _ in range(3):
            page.locator(".live-key .choices button").first.tap()
        expect(page.locator(".live-key .ranking > li").first).to_be_visible()
    page.get_by_role("button", name="Search", exact=True).tap()
    page.get_by_role("searchbox").press_sequentially("great wheel")
    expect(page.locator(".hits a").first).to_have_attribute("href", re.compile("/clocks/terms/great-wheel/$"))


def test_a_page_not_yet_saved_is_said_to_be_so(frugal: Visit, network: Network) -> None:
    page = saved_first(frugal)
    network.cut()
    frugal.foreseen = "ERR_FAILED"  # of the page itself
    page.goto(frugal.address + "terms/great-wheel/")
    expect(page.locator(".missing")).to_contain_text("isn’t saved on this device yet")
    expect(page.get_by_role("link", name="Try it again")).to_have_attribute("href", frugal.address + "terms/great-wheel/")
