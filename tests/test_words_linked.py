"""Trade words are linked where they stand, except those that are marked as too common."""

from __future__ import annotations

from build_tools.library import Library
from build_tools.model import Term
from build_tools.render.words import Words


def test_a_word_marked_as_too_common_is_left_alone(library: Library) -> None:
    marked = [term for term in library.of_kind("term") if isinstance(term, Term) and not term.linked]
    assert marked, "no term is marked `linked: false`, so this test would show nothing"
    for term in marked:
        page = Words(library).linked(f"<p>A {term.word} and an arbor.</p>", "")
        assert f'href="terms/{term.id}/"' not in page
        assert 'href="terms/arbor/"' in page
