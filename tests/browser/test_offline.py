"""The site with the network off: a first visit saves it, and then the server is stopped for good."""
from __future__ import annotations

import re
from collections.abc import Iterator
from hashlib import sha256
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


# Each file as a window gets it without a network: those that differ from what was published.
DIFFERENT = """async hashes => {
  const root = new URL(document.querySelector('link[rel=manifest]').href), wrong = [];
  for (const [path, hash] of Object.entries(hashes)) {
    const answer = await fetch(new URL(path, root)).catch(() => null);
    const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', answer && answer.ok ? await answer.arrayBuffer() : new Uint8Array()));
    if ([...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('') !== hash) { wrong.push(path); }
  }
  return wrong;
}"""
NO_USE_ON_A_DEVICE = re.compile(r"sitemap\.xml(\.gz)?|service-worker\.js|offline/.*\.pack|.*\.map")


def test_every_file_of_the_site_is_there_without_a_network_as_it_was_published(saver: Visit, network: Network, built_site: Path) -> None:
    page = saved_whole(saver, "terms/great-wheel/")
    network.cut()
    files = {path.relative_to(built_site).as_posix(): path for path in built_site.rglob("*") if path.is_file()}
    hashes = {path: sha256(file.read_bytes()).hexdigest() for path, file in files.items() if not NO_USE_ON_A_DEVICE.fullmatch(path)}
    assert len(hashes) > 1000 and page.evaluate(DIFFERENT, hashes) == []


def test_drawings_move_melodies_play_lots_are_noted_and_pages_print_without_a_network(saver: Visit, network: Network) -> None:
    page = saved_whole(saver)
    network.cut()
    page.add_init_script("window.AudioContext = class extends AudioContext { constructor() { super(); window.heard = this; } };")
    saver.open("by-ear/")
    page.locator("article button").first.tap()
    page.wait_for_function("window.heard && window.heard.state === 'running'")
    saver.open("figures/")
    button = page.locator(".motion button").first
    before = button.text_content()
    button.tap()
    expect(button).not_to_have_text(before)
    saver.open("lots/")
    page.get_by_label("Lot number").fill("12")
    page.get_by_role("button", name="Note it").tap()
    expect(page.locator("details.lot")).to_have_count(1)
    page.reload()
    expect(page.locator("details.lot")).to_have_count(1)
    saver.open("sheets/pocket-card/")
    assert page.pdf(format="A4").startswith(b"%PDF")
