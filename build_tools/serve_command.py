"""``serve``: build the site, serve it on this machine, and build again whenever a file changes."""

from __future__ import annotations

import argparse
import sys
import threading
import time
from pathlib import Path

from build_tools.environment import ROOT
from build_tools.live_server import Server, Site, stamps
from build_tools.site_build import SITE, build_site

_WATCHED = ("kb", "docs", "mkdocs.yml")
_PAUSE = 0.4  # seconds between two looks


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command line of ``serve``."""
    parser.description = "Build the site, serve it on this machine, and build again whenever an entry or a page changes."
    parser.add_argument("--port", type=int, default=8000, help="port to serve on (default: 8000)")


def run(args: argparse.Namespace) -> int:
    """Serve until interrupted; 1 when the port cannot be had, 2 when there is no such port."""
    if not 0 <= args.port <= 65535:
        print(f"--port: there is no port {args.port}; choose one from 1024 to 65535", file=sys.stderr)
        return 2
    site = Site(ROOT / SITE)
    try:
        server = Server(site, args.port)
    except OSError as error:
        print(f"Port {args.port} cannot be used ({error.strerror}). Try another: python3 -m build_tools serve --port {args.port + 1}", file=sys.stderr)
        return 1
    with server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        _watch(ROOT, site, f"http://127.0.0.1:{server.server_port}/")
        server.shutdown()
    return 0


def _watch(root: Path, site: Site, address: str) -> None:
    """Build now and after each change, until the keyboard interrupts."""
    try:
        seen, code = _build(root, site, address), stamps([root / "build_tools"])
        while True:
            time.sleep(_PAUSE)
            if stamps([root / name for name in _WATCHED]) != seen:
                seen = _build(root, site, address)
            if stamps([root / "build_tools"]) != code:
                code = stamps([root / "build_tools"])
                print("A file of build_tools changed: stop and start serve to use it.", flush=True)
    except KeyboardInterrupt:
        print("\nStopped.")


def _build(root: Path, site: Site, address: str) -> dict[str, int]:
    """Build once and say how it went; returns the state of the files that went into it."""
    seen, start = stamps([root / name for name in _WATCHED]), time.monotonic()
    print("Building …", flush=True)
    lines = site.rebuild(lambda: build_site(root, address, offline=False))
    if lines:
        print("\n".join(lines), file=sys.stderr, flush=True)
        shows = "still shows the last good site" if site.folder.is_dir() else "shows the problems until there is a first site"
        print(f"Not built. {address} {shows}.", flush=True)
    else:
        print(f"Built in {time.monotonic() - start:.1f} s: {address} (Ctrl+C stops)", flush=True)
    return seen
