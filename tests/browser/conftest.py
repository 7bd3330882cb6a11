"""A real Chromium with a phone's screen that visits the built site and notices what must never happen there."""
from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Request, sync_playwright

from tests.browser.chromium import MISSING, find_chromium
from tests.browser.network import Network

PHONE = {"width": 360, "height": 740}
DESK = {"viewport": {"width": 1280, "height": 900}, "has_touch": False, "is_mobile": False}
FLAGS = ["--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run", "--disable-gpu", "--disable-quic",
         "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"]  # nothing leaves the machine, whoever asks


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = find_chromium()
    if path is None:
        (pytest.fail if os.environ.get("CI") == "true" else pytest.skip)(MISSING)
    as_root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []  # its sandbox refuses to start for root
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=[*FLAGS, *as_root])
        yield chromium
        chromium.close()


@dataclass
class Visit:
    """One page of the site in the browser, with all that went wrong on it."""

    page: Page
    address: str
    faults: list[str] = field(default_factory=list)
    foreseen: str = ""
    """Part of what the console says of a fault that the test brings about itself."""

    def open(self, path: str = "") -> Page:
        """Go to a page of the site by its path, such as `terms/great-wheel/`."""
        answer = self.page.goto(self.address + path)
        assert answer is not None and answer.ok, f"{path}: {answer and answer.status}"
        return self.page

    def watch(self) -> None:
        """Keep whatever must not happen: errors of a script, and requests to elsewhere (the browser finds no way there)."""
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.faults.append(f"{self.page.url}: {error}"))
        self.page.context.on("request", self._request)

    def leave(self) -> None:
        """Close the page and forget what the device keeps of the site, for whoever comes to this window next."""
        if self.page.url.startswith(self.address):
            self.page.evaluate("sessionStorage.clear()")
        self.page.goto("about:blank")
        assert self.page.context.pages == [self.page], "a test closes what it opens"
        self.page.emulate_media(media="null", color_scheme="light")
        session = self.page.context.new_cdp_session(self.page)
        session.send("Storage.clearDataForOrigin", {"origin": self.address.rstrip("/"), "storageTypes": "all"})
        session.detach()

    def _console(self, message: ConsoleMessage) -> None:
        if message.type == "error" and not (self.foreseen and self.foreseen in message.text):
            self.faults.append(f"{self.page.url}: console: {message.text}")

    def _request(self, request: Request) -> None:
        if not request.url.startswith((self.address, "data:", "blob:")):
            self.faults.append(f"{self.page.url}: asked for {request.url}")


def visit_in_window(browser: Browser, address: str, settings: dict[str, object]) -> Visit:
    """A watched visit in a window of its own: a phone's, but for the settings."""
    context = browser.new_context(**{"viewport": PHONE, "has_touch": True, "is_mobile": True, "service_workers": "block", **settings})
    visit = Visit(context.new_page(), address)
    visit.watch()
    return visit


@pytest.fixture
def visitor(browser: Browser, site_address: str) -> Iterator[Callable[..., Visit]]:
    """Makes visits; at the end of the test nothing may have gone wrong on any of them."""
    visits: list[Visit] = []

    def visit(**settings: object) -> Visit:
        visits.append(visit_in_window(browser, site_address, settings))
        return visits[-1]

    yield visit
    for one in visits:
        one.page.context.close()
    assert [fault for one in visits for fault in one.faults] == []


@pytest.fixture(scope="session")
def windows(browser: Browser, site_address: str) -> Iterator[dict[str, Visit]]:
    """A phone and a desk that stay open: a new window costs the processor four times what a page costs."""
    kept = {"phone": visit_in_window(browser, site_address, {}), "desk": visit_in_window(browser, site_address, DESK)}
    yield kept
    for visit in kept.values():
        visit.page.context.close()


def passing(visit: Visit) -> Iterator[Visit]:
    """The visit of one test in a window that stays open."""
    screen = visit.page.viewport_size
    yield visit
    visit.leave()
    visit.page.set_viewport_size(screen)
    faults, visit.faults, visit.foreseen = visit.faults, [], ""
    assert faults == []


@pytest.fixture
def phone(windows: dict[str, Visit]) -> Iterator[Visit]:
    """A phone of 360 by 740 that is touched."""
    yield from passing(windows["phone"])


@pytest.fixture
def own_phone(visitor: Callable[..., Visit]) -> Visit:
    """The same in a window of its own, for whoever sets a script beforehand: it could not be taken away again."""
    return visitor()


@pytest.fixture
def desk(windows: dict[str, Visit]) -> Iterator[Visit]:
    """A desk's screen with a mouse and a keyboard, on the same terms."""
    yield from passing(windows["desk"])


@pytest.fixture
def saver(visitor: Callable[..., Visit], network: Network) -> Visit:
    """A phone that may keep pages, at the address of the test's own `network`, which can be cut off."""
    visit = visitor(service_workers="allow")
    visit.address = network.address
    return visit
