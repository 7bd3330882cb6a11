"""The font of the formulas can stretch, and has every character that a formula on a page holds."""
from __future__ import annotations

import io
import re
from html import unescape

from fontTools.ttLib import TTFont

from build_tools.library import Library
from build_tools.render.entry import entry_page
from build_tools.render.math_font import math_font


def test_it_is_small_and_stretches_roots_and_brackets() -> None:
    font = TTFont(io.BytesIO(math_font()))
    glyphs, variants = font.getBestCmap(), font["MATH"].table.MathVariants
    stretching = set(variants.VertGlyphCoverage.glyphs)
    assert len(math_font()) < 40_000
    assert {glyphs[ord(sign)] for sign in "√()|"} <= stretching


def test_every_character_of_the_formulas_is_in_it(library: Library) -> None:
    known = set(TTFont(io.BytesIO(math_font())).getBestCmap())
    pages = [entry_page(entry, library) for entry in library.of_kind("calculation")]
    formulas = [unescape(re.sub(r"<[^>]*>", "", found)) for page in pages for found in re.findall(r"<math\b.*?</math>", page, re.DOTALL)]
    assert len(formulas) > 100
    assert {sign for formula in formulas for sign in formula if ord(sign) not in known and not sign.isspace()} == set()
