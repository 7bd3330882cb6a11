"""A plate: a drawing in which each named part leads to its word; whole, with one part lit, or with numbers to fill in."""
from __future__ import annotations

from collections.abc import Mapping
from html import escape

from build_tools.figures.names import Name, numbered, with_link
from build_tools.figures.shapes import bounds, point, shape
from build_tools.figures.svg import WIDTH, drawing, group, link, number
from build_tools.figures.wheelwork import Address
from build_tools.model import Plate
from build_tools.model_parts import PlatePart

ROOM = 16.0  # px around a part in a close-up
Words = Mapping[str, str]
"""The word of each part by its reference."""


def labelled(plate: Plate, words: Words, address: Address) -> str:
    """The plate with all its names."""
    names = [with_link(_name(part, words), address(part.of)) for part in plate.parts if part.label]
    return _whole(plate, plate.id, [_part(part, words, address) for part in plate.parts], names, in_words(plate, words))


def with_one_lit(plate: Plate, ref: str, words: Words, address: Address) -> str:
    """The plate with one part in the accent colour and under its name; the others lead to their words all the same."""
    parts = [_part(part, words, address, "lit" if part.of == ref else "") for part in plate.parts]
    names = [with_link(_name(part, words), "") for part in plate.parts if part.of == ref and part.label]
    return _whole(plate, f"{plate.id}-{ref.partition(':')[2]}", parts, names, f"In the drawing “{plate.name}” this part is picked out: {words[ref]}.")


def to_fill_in(plate: Plate, words: Words) -> str:
    """The plate with a number in place of each name."""
    parts = [group([shape(text_) for text_ in part.draw], "part") for part in plate.parts]
    names = numbered(names_of(plate, words))
    return _whole(plate, f"{plate.id}-blank", parts, names, f"{len(names)} parts are numbered, to be named.")


def once(plate: Plate) -> str:
    """The whole plate without names, not shown itself, to be used again behind each part."""
    shapes = [shape(each) for each in (*plate.behind, *(text_ for part in plate.parts for text_ in part.draw))]
    return f'<svg class="drawing stock" width="0" height="0" aria-hidden="true"><defs><g class="drawing even" id="stock-{plate.id}">{"".join(shapes)}</g></defs></svg>'


def close_up(plate: Plate, part: PlatePart) -> str:
    """A square around one part, the part picked out from what lies about it; `once` must stand on the same page."""
    edges = [bounds(each) for each in part.draw]
    left, top, right, bottom = (chosen(edge[place] for edge in edges) for place, chosen in enumerate((min, min, max, max)))
    side = max(right - left, bottom - top) + 2 * ROOM
    x, y = (left + right - side) / 2, (top + bottom - side) / 2
    lit = group([shape(each) for each in part.draw], "lit")
    return (f'<svg class="drawing even close" viewBox="{number(x)} {number(y)} {number(side)} {number(side)}" aria-hidden="true" focusable="false">'
            f'<use class="around" href="#stock-{plate.id}"/>{lit}</svg>')


def in_words(plate: Plate, words: Words) -> str:
    """The names of all parts."""
    named = dict.fromkeys(_says(part, words) for part in plate.parts)
    return f"Named parts: {', '.join(named)}."


def _whole(plate: Plate, name: str, parts: list[str], names: list[str], says: str) -> str:
    behind = group([shape(each) for each in plate.behind], "behind")
    return drawing(f"plate-{name}", plate.name, says, (WIDTH, plate.height), [behind, *parts, *names], "plate")


def _says(part: PlatePart, words: Words) -> str:
    return part.says or words[part.of]


def _part(part: PlatePart, words: Words, address: Address, style: str = "") -> str:
    shapes = [shape(each) for each in part.draw]
    title = f"<title>{escape(words[part.of], quote=False)}</title>"
    return link(address(part.of), [title, *shapes], f"part {style}".strip()) if shapes else ""


def names_of(plate: Plate, words: Words) -> list[Name]:
    """The names of a plate in the order of its parts, each with the reference of its word."""
    return [_name(part, words) for part in plate.parts if part.label]


def _name(part: PlatePart, words: Words) -> Name:
    return Name(_says(part, words), point(part.label), point(part.at) if part.at else None, part.anchor, part.of)
