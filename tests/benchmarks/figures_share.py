"""What the figures add to the time of building the site: `python tests/benchmarks/figures_share.py`, from the project's root.

The site is built twice into a temporary folder, once as it is and once with every function that draws for a page giving back nothing. Times are those of the
processor. The limit is a third of what the site takes without figures; beyond it the
exit status is 1.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from build_tools import figures, mkdocs_hook, render
from build_tools.render.pictures import PICTURES, Picture

PROJECT = Path(__file__).resolve().parents[2]
DRAWING = ("plan_of", "elevation_of", "plates_with", "named_figure", "curve_of", "barrel_of", "picture", "to_fill_in", "close_up", "once")
LIMIT = 1 / 3


def built() -> float:
    """Seconds of the processor for one build."""
    with tempfile.TemporaryDirectory() as folder:
        start = time.process_time()
        lines = mkdocs_hook.build(PROJECT, Path(folder), "", False)
        taken = time.process_time() - start
    if lines:
        raise SystemExit("\n".join(lines))
    return taken


def without_figures() -> None:
    """From here on whatever would draw for a page gives back nothing; the pages stay."""
    for name, module in list(sys.modules.items()):
        if name.startswith((render.__name__, figures.__name__)):
            for function in DRAWING:
                if hasattr(module, function):
                    setattr(module, function, lambda *_: "")
    PICTURES.update({name: Picture(lambda _: "", each.blank and (lambda _: ""), each.names) for name, each in PICTURES.items()})


def main() -> None:
    whole = built()
    without_figures()
    plain = built()
    share = (whole - plain) / plain
    print(f"with figures {whole:.1f} s, without {plain:.1f} s: they add {share:.0%} (limit {LIMIT:.0%})")
    raise SystemExit(int(share > LIMIT))


if __name__ == "__main__":
    main()
