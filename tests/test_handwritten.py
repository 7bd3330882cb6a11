"""Pages written by hand: references become links, cautions stand in full, code is left alone, and a slip is said in a sentence."""
from __future__ import annotations

import pytest

from build_tools.library import Library
from build_tools.render.handwritten import UnknownReference, filled


def test_references_become_links(library: Library) -> None:
    text = filled("A [[term:barrel]] and [[term:arbor|its axle]].", "marks.md", library)
    assert text == "A [barrel](terms/barrel.md) and [its axle](terms/arbor.md)."


def test_a_caution_on_its_own_line_stands_in_full(library: Library) -> None:
    text = filled("Before.\n\n[[caution:weights]]\n\nAfter [[caution:weights]].", "marks.md", library)
    assert text.count('<div class="caution"') == 1 and "stand clear of what hangs" in text
    assert text.endswith("After [Weights and their lines](cautions/weights.md).")


def test_code_is_left_alone(library: Library) -> None:
    text = "`[[term:no-such]]`\n\n```yaml\n[[term:no-such]]\n```\n"
    assert filled(text, "contributing.md", library) == text


def test_a_slip_names_the_page_and_what_was_meant(library: Library) -> None:
    with pytest.raises(UnknownReference, match=r"docs/marks\.md: no entry called term:barel; did you mean barrel\?"):
        filled("A [[term:barel]].", "marks.md", library)
