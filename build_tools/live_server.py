"""A small web server for writing: serves the last good site and reloads the browser when a new one stands.

The site builder brings a server of its own, but after a failed rebuild that one lets every page hang.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

_RELOAD = b"""<script>
(function wait(version) {
  fetch("/-/changes?version=" + version).then(function (answer) { return answer.text(); }).then(function (now) {
    if (version !== "" && now !== version) { location.reload(); } else { wait(now); }
  }).catch(function () { setTimeout(function () { wait(version); }, 2000); });
}(""));
</script>"""
_HOLD = 25.0  # seconds that a question about changes is kept open


class Site:
    """The folder that is served, how often it has changed, and what is wrong when there is none."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.trouble = ""
        self.version = 0
        self.changed = threading.Condition()

    def rebuild(self, build: Callable[[], list[str]]) -> list[str]:
        """Run ``build`` and tell the waiting browsers; returns the lines that it returned."""
        lines = build()
        with self.changed:
            self.trouble = "\n".join(lines)
            self.version += 1
            self.changed.notify_all()
        return lines

    def wait(self, version: str) -> str:
        """The present version, at once if it is not ``version``, else when it changes or after a while."""
        with self.changed:
            if version == str(self.version):
                self.changed.wait(_HOLD)
            return str(self.version)


class Handler(SimpleHTTPRequestHandler):
    """Serves one ``Site``, set as ``site`` on the server."""

    def do_GET(self) -> None:
        """Answer a question about changes, or send a file."""
        parts = urlsplit(self.path)
        if parts.path == "/-/changes":
            self._send(200, self.server.site.wait(parse_qs(parts.query).get("version", [""])[0]).encode(), "text/plain")
            return
        self.directory = str(self.server.site.folder)
        file = Path(self.translate_path(self.path))
        if file.is_dir() and not parts.path.endswith("/"):
            super().do_GET()  # sends the browser on to the address with the stroke
        elif (page := file / "index.html" if file.is_dir() else file).suffix != ".html" and page.is_file():
            super().do_GET()
        else:
            self._send_page(page)

    def _send_page(self, page: Path) -> None:
        """A page with the reloading script; the site's own page for a missing one; the problems without a site."""
        missing = self.server.site.folder / "404.html"
        if page.is_file():
            self._send(200, page.read_bytes() + _RELOAD, "text/html; charset=utf-8")
        elif missing.is_file():
            self._send(404, missing.read_bytes() + _RELOAD, "text/html; charset=utf-8")
        else:
            text = "There is no site yet.\n\n" + self.server.site.trouble
            text = text.replace("&", "&amp;").replace("<", "&lt;")
            self._send(503, f"<title>No site yet</title><pre>{text}</pre>".encode() + _RELOAD, "text/html; charset=utf-8")

    def _send(self, status: int, body: bytes, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing about single requests: the terminal is for the problems."""


class Server(ThreadingHTTPServer):
    """Serves ``site`` on this machine only."""

    daemon_threads = True

    def __init__(self, site: Site, port: int) -> None:
        self.site = site
        super().__init__(("127.0.0.1", port), Handler)

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that leaves in the middle of an answer is nothing to report."""


def stamps(folders: list[Path]) -> dict[str, int]:
    """The time of the last change of each file in ``folders`` (which may be files themselves)."""
    return {str(file): stamp for folder in folders for file, stamp in _stamps(folder)}


def _stamps(folder: Path) -> Iterator[tuple[Path, int]]:
    for file in [folder] if folder.is_file() else folder.rglob("*"):
        if file.suffix == ".pyc" or file.name.startswith("."):
            continue
        try:
            if file.is_file():
                yield file, file.stat().st_mtime_ns
        except OSError:  # gone again between listing and looking
            continue
