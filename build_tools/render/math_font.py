"""The font of the formulas: roots and brackets stretch only with a font that has a MATH table, and many phones have none."""
from __future__ import annotations

import io
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from fontTools import subset

FONT = "css/formulas.woff2"
_SIGNS = " .,:;'\"%|()[]{}=<>/+-−×·≤≥≠≈√∞°′″±²³µℓ∈∑∏…⋯⌊⌋⌈⌉\u00a0\u2009\u202f\u2061"
_ITALIC = (*range(0x1D434, 0x1D468), 0x210E, *range(0x1D6E2, 0x1D71C))
"""Letters by themselves are set as mathematical italics: Latin, the h that stands apart, Greek."""


@cache
def math_font() -> bytes:
    """STIX Two Math (SIL Open Font License), cut down to what formulas here can hold, as WOFF2."""
    options = subset.Options(flavor="woff2", hinting=False, layout_features=[], name_IDs=[0, 1, 2, 5, 13, 14], recalc_timestamp=False)
    font = subset.load_font(str(_original()), options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[*map(ord, _SIGNS), *range(0x30, 0x3A), *range(0x41, 0x5B), *range(0x61, 0x7B), *range(0x391, 0x3CA), *_ITALIC])
    cutter.subset(font)
    made = io.BytesIO()
    subset.save_font(font, made, options)
    return made.getvalue()


def _original() -> Path:
    """The whole font, as a package brings it."""
    spec = find_spec("ziamath")
    assert spec and spec.origin
    return Path(spec.origin).parent / "fonts" / "STIXTwoMath-Regular.ttf"
