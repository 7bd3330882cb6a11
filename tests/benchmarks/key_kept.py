"""How many of the described clocks that were kept aside the key gets right.

Run it by hand, after a round of changes to shares: .venv/bin/python tests/benchmarks/key_kept.py. It prints three counts for each set and names no clock,
because the shares may not be mended to suit them; whoever has read tests/cases/kept or kept2 writes new ones.
"""
from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from test_key_blind import MOST, all_told, asked_through, clocks, is_right  # noqa: E402

from build_tools.library import Library, read_library  # noqa: E402


def show(library: Library, folder: str) -> None:
    kept = clocks(folder)
    ways = {
        "with all that was seen": [all_told(clock, library) for clock in kept],
        "asked through to six answers told": [asked_through(clock, library) for clock in kept],
        "after six questions put": [asked_through(clock, library, MOST) for clock in kept],
    }
    for way, found in ways.items():
        print(f"{folder}, {way}: {sum(map(is_right, found, kept))} of {len(kept)} right")


if __name__ == "__main__":
    knowledge = read_library(ROOT)[0]
    for kept_aside in ("kept", "kept2"):
        show(knowledge, kept_aside)
