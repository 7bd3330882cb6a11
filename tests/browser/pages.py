"""Which pages the browser visits: one of each layout, and a sample that is the same at every run."""
from __future__ import annotations

import random
from pathlib import Path

KB = Path(__file__).resolve().parent.parent.parent / "kb"
SEED, SAMPLE = 1656, 12
ENTRIES = sorted(path for path in KB.glob("*/*.yaml"))
FOLDERS = sorted({path.parent.name for path in ENTRIES})


def page_of(entry: Path) -> str:
    return f"{entry.parent.name}/{entry.stem}/"


def longest(folder: str) -> Path:
    """The longest entry of a folder: whatever its layout can hold is most likely in it."""
    return max((path for path in ENTRIES if path.parent.name == folder), key=lambda path: (path.stat().st_size, path.name))


LAYOUTS = ["", *(f"{folder}/" for folder in FOLDERS), *(page_of(longest(folder)) for folder in FOLDERS), "key/", "key/trains/", "key/stops/",
           "figures/", "by-ear/", "lots/", "offline/", "method/", "how-we-know/", "contributing/"]
SAMPLED = [page for page in map(page_of, random.Random(SEED).sample(ENTRIES, SAMPLE)) if page not in LAYOUTS]
VISITED = LAYOUTS + SAMPLED
