"""What a first visit and the whole site weigh: `python tests/benchmarks/offline_size.py [FOLDER]`, from the project's root.

FOLDER is a built site; without one it is built into a temporary folder. Sizes are those that travel: packs as they are, other files as a web server
compresses them (gzip, level 6), since most servers do. A first visit is the front page with all that it loads and all that the service
worker saves before anything else; the budget is 250 kB for it, and 3 kB an entry for everything.
"""

from __future__ import annotations

import gzip
import json
import sys
import tempfile
from pathlib import Path

from build_tools import mkdocs_hook
from build_tools.offline import WORKER

PROJECT = Path(__file__).resolve().parents[2]
FIRST_BUDGET, ENTRY_BUDGET = 250.0, 3.0  # kB, kB an entry
KILOBYTE = 1000


def travels(path: Path) -> float:
    """Kilobytes of a file on its way."""
    data = path.read_bytes()
    return (len(data) if path.suffix in (".pack", ".png", ".woff2") else len(gzip.compress(data, 6, mtime=0))) / KILOBYTE


def saved_by(site: Path) -> dict:
    """What the service worker is told to save."""
    line = (site / WORKER).read_text(encoding="utf-8").splitlines()[0]
    return json.loads(line.removeprefix("const SAVED = ").rstrip(";"))


def first_visit(site: Path) -> dict[str, float]:
    """Kilobytes of each part of a first visit, the largest first."""
    saved = saved_by(site)
    paths = ["index.html", WORKER, "js/offline-pack.js", "js/lzma.js", *saved["files"], saved["packs"]["first"]["path"]]
    return dict(sorted(((path, travels(site / path)) for path in paths), key=lambda pair: -pair[1]))


def all_of_it(site: Path) -> float:
    """Kilobytes of everything that ends up on the device."""
    saved = saved_by(site)
    return sum(first_visit(site).values()) + sum(travels(site / path) for path in saved["later"]) + travels(site / saved["packs"]["whole"]["path"])


def report(site: Path, entries: int) -> None:
    """Print both sums beside their budgets."""
    parts = first_visit(site)
    for path, size in list(parts.items())[:8]:
        print(f"{size:8.1f} kB  {path}")
    first, whole = sum(parts.values()), all_of_it(site)
    print(f"first visit: {first:.0f} kB of {FIRST_BUDGET:.0f} kB")
    print(f"everything:  {whole:.0f} kB of {ENTRY_BUDGET * entries:.0f} kB ({whole / entries:.2f} kB an entry, {entries} entries)")


def main() -> None:
    entries = len(list((PROJECT / "kb").glob("*/*.yaml")))
    if len(sys.argv) > 1:
        report(Path(sys.argv[1]), entries)
        return
    with tempfile.TemporaryDirectory() as folder:
        problems = mkdocs_hook.build(PROJECT, Path(folder), "")
        print("\n".join(problems)) if problems else report(Path(folder), entries)


if __name__ == "__main__":
    main()
