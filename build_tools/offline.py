"""Everything a built site needs to live on a device: the service worker, the packs that it saves, manifest and icons.

The *first* set is what a visitor wants without reception: shell, key, sums and the names of all pages. The *whole* is one pack of every
text file. A version is the hash of all files; each page carries it, and each file is compared with its hash before it is kept.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterable
from pathlib import Path

from build_tools.icon import PAPER, icon
from build_tools.offline_pack import pack, small_pack
from build_tools.render.search import NAMES

WORKER, MANIFEST = "service-worker.js", "manifest.webmanifest"
ICONS = {"icons/icon-192.png": (192, 1.0, "any"), "icons/icon-512.png": (512, 1.0, "any"), "icons/icon-masked-512.png": (512, 0.75, "maskable")}
TEXT = {".html", ".css", ".js", ".json", ".csv", ".svg", ".xml", ".webmanifest"}
_LEFT_OUT = re.compile(r".*\.map|sitemap\.xml(\.gz)?|service-worker\.js")  # of no use on a device
_FIRST = re.compile(r"(index|404)\.html|(calculations|offline|lots)/.*|key/index\.html|js/.*")
_LATER_SCRIPTS = ("js/key-pictures.js", "js/sums-curve.js")  # key and sums do without pictures and curves at first: an empty script stands for each
_LOADED = re.compile(r'<(?:link|script)\b[^>]*?\b(?:href|src)="(?!http)([^"#?]+\.(?:css|js|svg|webmanifest))"')
_LATER = re.compile(r'<h2 id="how-the-sum-goes">.*?(?=<script|</article>)', re.DOTALL)  # the form has all that is needed to work a sum
_COMMENT = re.compile(r"^[ \t]*/\*.*?\*/[ \t]*\n", re.DOTALL | re.MULTILINE)  # only those on lines of their own, so that no text is taken for one
_PROMISE = "<p>How the sum goes, a worked example and the sources are saved with the rest of the site: open this page again in a moment.</p>\n"
_LIVE = '<div class="live-key"'


def add_installable(site: Path, name: str, about: str) -> None:
    """Write manifest and icons, so that the site can be put on a home screen."""
    (site / "icons").mkdir(exist_ok=True)
    for path, (size, scale, _) in ICONS.items():
        (site / path).write_bytes(icon(size, scale))
    icons = [{"src": path, "sizes": f"{size}x{size}", "type": "image/png", "purpose": purpose} for path, (size, _, purpose) in ICONS.items()]
    paper = "#" + "".join(f"{part:02x}" for part in PAPER)
    manifest = {"name": name, "short_name": "Clocks", "description": about, "lang": "en", "start_url": ".", "scope": ".",
                "display": "standalone", "background_color": paper, "theme_color": paper, "icons": icons}
    (site / MANIFEST).write_text(json.dumps(manifest, ensure_ascii=False, indent=1), encoding="utf-8")


def add_offline(site: Path) -> str:
    """Take the comments out of scripts, stamp the pages with the version, write both packs and the service worker; returns the version."""
    paths = [path for path in _files(site) if not _LEFT_OUT.fullmatch(path)]
    _lighten(site, [WORKER, *(path for path in paths if path.endswith(".js"))])
    version = _version(site, paths)
    _stamp(site, paths, version)
    texts = {path: (site / path).read_text(encoding="utf-8") for path in paths if Path(path).suffix in TEXT}
    shell = shell_of(texts)
    first = {path: _first_text(path, text) for path, text in texts.items() if path not in shell and _is_first(path, text)}
    whole = {path: text for path, text in texts.items() if path not in shell}
    saved = {
        "version": version, "pages": _pages(texts),
        "files": {path: _hash((site / path).read_bytes()) for path in shell},
        "later": {path: _hash((site / path).read_bytes()) for path in paths if path not in texts},
        "packs": {"first": _write_pack(site, "first", first, small_pack), "whole": _write_pack(site, "whole", whole, pack)},
    }
    worker = site / WORKER
    worker.write_text(f"const SAVED = {json.dumps(saved, separators=(',', ':'))};\n" + worker.read_text(encoding="utf-8"), encoding="utf-8")
    return version


def shell_of(texts: dict[str, str]) -> list[str]:
    """The files that the front page itself loads."""
    return sorted({path.removeprefix("./") for path in _LOADED.findall(texts["index.html"])} & set(texts))


def _is_first(path: str, text: str) -> bool:
    return path == NAMES or bool(_FIRST.fullmatch(path)) or _LIVE in text


def _first_text(path: str, text: str) -> str:
    """What the first pack holds of a file: a sum without its explanation and curve, the key without its pictures."""
    return "" if path in _LATER_SCRIPTS else _LATER.sub(_PROMISE, text)


def _files(site: Path) -> list[str]:
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())


def _lighten(site: Path, scripts: Iterable[str]) -> None:
    """Take the comments out of scripts: they stand where the scripts are written."""
    for path in scripts:
        text = (site / path).read_text(encoding="utf-8")
        (site / path).write_text(_COMMENT.sub("", text), encoding="utf-8")


def _version(site: Path, paths: Iterable[str]) -> str:
    """The hash of all files with their names, the service worker's among them."""
    whole = hashlib.sha256()
    for path in (*paths, WORKER):
        whole.update(path.encode() + b"\0" + hashlib.sha256((site / path).read_bytes()).digest())
    return whole.hexdigest()[:12]


def _stamp(site: Path, paths: Iterable[str], version: str) -> None:
    for path in paths:
        if path.endswith(".html"):
            text = (site / path).read_text(encoding="utf-8")
            (site / path).write_text(text.replace("<html ", f'<html data-version="{version}" ', 1), encoding="utf-8")


def _write_pack(site: Path, name: str, texts: dict[str, str], packed: Callable[[dict[str, str]], bytes]) -> dict[str, str | int]:
    data = packed(texts)
    path = f"offline/{name}-{_hash(data)}.pack"
    (site / "offline").mkdir(exist_ok=True)
    (site / path).write_bytes(data)
    return {"path": path, "hash": _hash(data), "pages": _pages(texts)}


def _pages(texts: Iterable[str]) -> int:
    return sum(path.endswith("index.html") for path in texts)


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:32]
