"""Editions of a small site in turn: a new one takes the place of the old as a whole or not at all, and a full device is told."""
from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from build_tools.offline import WORKER, add_installable, add_offline
from tests.browser.conftest import Visit
from tests.browser.network import Network

pytestmark = pytest.mark.browser
DOCS = Path(__file__).resolve().parent.parent.parent / "docs"
WHOLE, FIRST = re.compile("^All 3 pages are saved"), re.compile("^The key, the sums and the names are saved")
LITTLE = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"  # then the rest is not fetched by itself
EDITION = "[document.querySelector('h1')?.textContent, getComputedStyle(document.body).getPropertyValue('--edition').trim()]"


def page_text(root: str, words: str) -> str:
    return (
        f'<html lang="en"><head><meta charset="utf-8"><link rel="icon" href="data:,"><link rel="stylesheet" href="{root}css/a.css"></head><body><h1>{words}</h1>'
        f'<p class="imprint" hidden><a class="saved" href="{root}offline/"></a></p><p class="missing" hidden></p>'
        f'<script src="{root}js/site.js"></script><script src="{root}js/offline.js"></script></body></html>'
    )


def publish(folder: Path, edition: str) -> None:
    """Put an edition of three pages in place of what the folder holds."""
    for old in folder.iterdir():
        shutil.rmtree(old) if old.is_dir() else old.unlink()
    shutil.copytree(DOCS / "js", folder / "js")
    shutil.copy(DOCS / WORKER, folder)
    for path, root in (("index.html", "./"), ("404.html", "/"), ("offline/index.html", "../"), ("far/index.html", "../")):
        (folder / path).parent.mkdir(exist_ok=True)
        (folder / path).write_text(page_text(root, edition), encoding="utf-8")
    for path, text in (("css/a.css", f"body {{ --edition: {edition}; }}"), ("search/names.json", "{}")):
        (folder / path).parent.mkdir(exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    add_installable(folder, "A small site", "")
    add_offline(folder)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    publish(tmp_path, "one")
    return tmp_path


@pytest.fixture
def network(folder: Path) -> Iterator[Network]:
    made = Network(folder)
    yield made
    made.cut()


def line(page: Page) -> object:
    return page.locator(".imprint .saved")


# Look for a newer edition, several times: the browser may be looking by itself just while it is being published. Whether one waits then.
UPDATED = """async () => {
  const site = await navigator.serviceWorker.getRegistration();
  for (let look = 0; look < 6 && !site.waiting; look += 1) {
    await site.update().catch(() => {});
    while (site.installing) { await new Promise((done) => setTimeout(done, 50)); }
  }
  return Boolean(site.waiting);
}"""


def test_a_new_edition_takes_over_at_the_next_page_and_as_a_whole(saver: Visit, folder: Path, network: Network) -> None:
    page = saver.open()
    expect(line(page)).to_have_text(WHOLE, timeout=15_000)
    publish(folder, "two")
    saver.open("far/")
    assert page.evaluate(EDITION) == ["one", "one"], "the saved edition is shown until the new one is complete"
    assert page.evaluate(UPDATED)
    saver.open("offline/")
    page.wait_for_function(f"{EDITION}.join() === 'two,two'")
    network.cut()
    for path in ("", "far/"):
        saver.open(path)
        assert page.evaluate(EDITION) == ["two", "two"]


def test_an_edition_that_is_only_half_published_is_not_taken(saver: Visit, folder: Path, network: Network) -> None:
    page = saver.open()
    expect(line(page)).to_have_text(WHOLE, timeout=15_000)
    publish(folder, "two")
    (folder / "css" / "a.css").write_text("body { --edition: three; }", encoding="utf-8")
    assert not page.evaluate(UPDATED)
    network.cut()
    for path in ("far/", ""):
        saver.open(path)
        assert page.evaluate(EDITION) == ["one", "one"]
    assert page.evaluate("caches.keys().then(names => names.length)") == 1


def test_a_page_of_a_newer_edition_from_the_network_gets_its_own_style(saver: Visit, folder: Path) -> None:
    saver.page.add_init_script(LITTLE)
    page = saver.open()
    expect(line(page)).to_have_text(FIRST, timeout=15_000)
    saver.open()
    publish(folder, "two")
    saver.open("far/")
    assert page.evaluate(EDITION) == ["two", "two"]


def test_with_two_windows_open_the_old_edition_stays_until_one_is_closed(saver: Visit, folder: Path) -> None:
    page = saver.open()
    expect(line(page)).to_have_text(WHOLE, timeout=15_000)
    saver.open()
    other = page.context.new_page()
    other.goto(saver.address + "far/")
    publish(folder, "two")
    assert page.evaluate(UPDATED)
    saver.open("far/")
    assert page.evaluate(EDITION) == ["one", "one"]
    expect(line(page)).to_contain_text("A newer edition is ready")
    other.close()
    saver.open()
    page.wait_for_function(f"{EDITION}.join() === 'two,two'")


def test_a_full_device_is_said_and_pages_still_open_from_the_network(saver: Visit, folder: Path) -> None:
    session = saver.page.context.new_cdp_session(saver.page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": saver.address.rstrip("/"), "quotaSize": 1})
    saver.foreseen = "fetching the script"  # the worker itself may find no room either
    page = saver.open()
    expect(line(page)).to_contain_text("no room left", timeout=15_000)
    saver.open("far/")
    assert page.evaluate(EDITION) == ["one", "one"]
