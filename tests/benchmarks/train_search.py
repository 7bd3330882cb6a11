"""How long the search for the best wheels takes: `python tests/benchmarks/train_search.py`, from the project's root.

Wheels of 20 to 144, pinions of 6 to 20, one to four meshes: for 60 to 1, which thousands of trains give exactly, and for a lunation in days, which none
does. In Python the processor's time; in the page's engine the clock on the wall, for the first search in a fresh engine and for the fourth.
"""
from __future__ import annotations

import json
import sys
import time
from fractions import Fraction
from pathlib import Path

from py_mini_racer import MiniRacer

PROJECT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(PROJECT))

from build_tools.trainsearch import Bounds, search  # noqa: E402  (the path comes first)

WHEELS, PINIONS = tuple(range(20, 145)), tuple(range(6, 21))
RATIOS = {"60": "exact", "29.530589": "none exact"}
IN_THE_PAGE = """(([ratio, meshes, over, under]) => {
  const start = Date.now();
  ClockRef.trainsearch.search(ClockRef.number.read(ratio), { meshes, over, under, coprime: false });
  return Date.now() - start;
})(%s)"""


def in_python(ratio: str, meshes: int) -> float:
    """The least processor time of three searches, in milliseconds."""
    times = []
    for _ in range(3):
        start = time.process_time()
        search(Fraction(ratio), Bounds(meshes, WHEELS, PINIONS))
        times.append(time.process_time() - start)
    return min(times) * 1000


def in_the_page(ratio: str, meshes: int) -> list[int]:
    """The times of four searches in a fresh engine, in milliseconds."""
    with MiniRacer() as engine:
        for name in ("number.js", "trainsearch.js"):
            engine.eval((PROJECT / "docs" / "js" / name).read_text(encoding="utf-8"))
        return [engine.eval(IN_THE_PAGE % json.dumps([ratio, meshes, WHEELS, PINIONS])) for _ in range(4)]


def main() -> None:
    """Prints a line for each ratio and number of meshes."""
    print("ratio      meshes  Python ms  page first ms  page fourth ms  trains as good")
    for ratio, kind in RATIOS.items():
        for meshes in range(1, 5):
            page = in_the_page(ratio, meshes)
            equals = search(Fraction(ratio), Bounds(meshes, WHEELS, PINIONS)).equals
            print(f"{ratio:10} {meshes:6}  {in_python(ratio, meshes):9.1f}  {page[0]:13}  {page[3]:14}  {equals} ({kind})")


if __name__ == "__main__":
    main()
