"""A real Chromium with a phone's screen that visits the built site and notices what must never happen there."""
from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Request, Route, sync_playwright

from tests.browser.chromium import MISSING, find_chromium
from tests.browser.network import Network

PHONE = {"width": 360, "height": 740}
FLAGS = ["--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run", "--disable-gpu", "--disable-quic"]


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
        """Keep whatever must not happen: errors of a script, and requests that would leave the machine (they are stopped)."""
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.faults.append(f"{self.page.url}: {error}"))
        self.page.context.route(self._is_foreign, self._stop)

    def _is_foreign(self, url: str) -> bool:
        return not url.startswith((self.address, "data:", "blob:"))

    def _console(self, message: ConsoleMessage) -> None:
        if message.type == "error" and not (self.foreseen and self.foreseen in message.text):
            self.faults.append(f"{self.page.url}: console: {message.text}")

    def _stop(self, route: Route, request: Request) -> None:
        self.faults.append(f"{self.page.url}: asked for {request.url}")
        route.abort()


@pytest.fixture
def visitor(browser: Browser, site_address: str) -> Iterator[Callable[..., Visit]]:
    """Makes visits; at the end of the test nothing may have gone wrong on any of them."""
    visits: list[Visit] = []

    def visit(**settings: object) -> Visit:
        context = browser.new_context(**{"viewport": PHONE, "has_touch": True, "is_mobile": True, "service_workers": "block", **settings})
        visits.append(Visit(context.new_page(), site_address))
        visits[-1].watch()
        return visits[-1]

    yield visit
    for one in visits:
        one.page.context.close()
    assert [fault for one in visits for fault in one.faults] == []


@pytest.fixture
def phone(visitor: Callable[..., Visit]) -> Visit:
    """A phone of 360 by 740 that is touched."""
    return visitor()


@pytest.fixture
def saver(visitor: Callable[..., Visit], network: Network) -> Visit:
    """A phone that may keep pages, at the address of the test's own `network`, which can be cut off."""
    visit = visitor(service_workers="allow")
    visit.address = network.address
    return visit


@pytest.fixture
def desk(visitor: Callable[..., Visit]) -> Visit:
    """A desk's screen with a mouse and a keyboard."""
    return visitor(viewport={"width": 1280, "height": 900}, has_touch=False, is_mobile=False)
