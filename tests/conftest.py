"""What all tests share: the checkout, its knowledge base read once, and its site built once."""
from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from build_tools.library import Library
from build_tools.lock import held, wait_for
from tests.browser.chromium import MISSING
from tests.javascript import Page, page
from tests.knowledge import read_once

ROOT = Path(__file__).resolve().parent.parent


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say loudly when the browser tests were left out."""
    skipped = [report for report in terminalreporter.stats.get("skipped", []) if MISSING in str(report.longrepr)]
    if skipped:
        terminalreporter.write_line(f"THE {len(skipped)} BROWSER TESTS WERE SKIPPED: {MISSING}.", yellow=True, bold=True)


@pytest.fixture(scope="session")
def root() -> Path:
    """The root of the checkout."""
    return ROOT


@pytest.fixture(scope="session")
def library():
    """The knowledge base of the checkout; read-only."""
    found, problems = read_once()
    assert not problems, "\n".join(str(problem) for problem in problems)
    return found


@pytest.fixture(scope="session")
def made(library: Library) -> dict[str, str]:
    """All pages made from the entries, as Markdown by path; read-only."""
    from build_tools.render import pages

    return pages(library)


class Quiet(SimpleHTTPRequestHandler):
    """Serves files and says nothing of it."""

    def log_message(self, *args: object) -> None:
        pass


class Server(ThreadingHTTPServer):
    """A server to which a browser that leaves in the middle of an answer is nothing to report."""

    def handle_error(self, request: object, client_address: object) -> None:
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the built site; read-only. The process that needs it first builds it, and the others wait for that rather than do the same beside it."""
    from build_tools import mkdocs_hook

    own = tmp_path_factory.getbasetemp()
    common = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    folder, problems = common / "site", common / "site-problems"
    with held(wait_for(common / "site-lock", shared=False, when_busy=lambda: None)):
        if not problems.exists():
            problems.write_text("\n".join(mkdocs_hook.build(ROOT, folder, "http://127.0.0.1/")), encoding="utf-8")
    assert problems.read_text(encoding="utf-8") == ""
    return folder


@pytest.fixture(scope="session")
def site_address(built_site: Path) -> Iterator[str]:
    """The address, ending in a slash, at which this process serves the built site."""
    with Server(("127.0.0.1", 0), partial(Quiet, directory=str(built_site))) as http:
        threading.Thread(target=http.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{http.server_port}/"
        http.shutdown()


@pytest.fixture(scope="session")
def scripts(library: Library) -> Iterator[Page]:
    """The page's scripts for calculations, loaded into an embedded V8."""
    with page(library) as loaded:
        yield loaded
