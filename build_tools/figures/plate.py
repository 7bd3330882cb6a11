"""A plate: a drawing in which each named part leads to its word; whole, with one part lit, or with numbers to fill in."""
from __future__ import annotations

from collections.abc import Mapping
from html import escape

from build_tools.figures.shapes import bounds, point, shape
from build_tools.figures.svg import SIZE, WIDTH, Point, circle, drawing, group, line, link, number, text, text_width
from build_tools.figures.wheelwork import Address
from build_tools.model import Plate
from build_tools.model_parts import PlatePart

ROOM = 16.0  # px around a part in a close-up
Words = Mapping[str, str]
"""The word of each part by its reference."""


def labelled(plate: Plate, words: Words, address: Address) -> str:
    """The plate with all its names."""
    names = [_name(part, _says(part, words), address(part.of)) for part in plate.parts if part.label]
    return _whole(plate, words, plate.id, [_part(part, words, address) for part in plate.parts], names, in_words(plate, words))


def with_one_lit(plate: Plate, ref: str, words: Words, address: Address) -> str:
    """The plate with one part in the accent colour and under its name; the others lead to their words all the same."""
    parts = [_part(part, words, address, "lit" if part.of == ref else "") for part in plate.parts]
    names = [_name(part, _says(part, words), "") for part in plate.parts if part.of == ref and part.label]
    return _whole(plate, words, f"{plate.id}-{ref.partition(':')[2]}", parts, names, f"In the drawing “{plate.name}” this part is picked out: {words[ref]}.")


def to_fill_in(plate: Plate, words: Words) -> str:
    """The plate with a number in place of each name."""
    parts = [group([shape(text_) for text_ in part.draw], "part") for part in plate.parts]
    names = [_number(part, place, _says(part, words)) for place, part in numbered(plate)]
    return _whole(plate, words, f"{plate.id}-blank", parts, names, f"{len(names)} parts are numbered, to be named.")


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


def numbered(plate: Plate) -> list[tuple[int, PlatePart]]:
    """The parts that have a label, counted from one down the left side and then down the right."""
    named = [part for part in plate.parts if part.label]
    return list(enumerate(sorted(named, key=lambda part: (part.anchor == "end", point(part.label)[1])), 1))


def in_words(plate: Plate, words: Words) -> str:
    """The names of all parts."""
    named = dict.fromkeys(_says(part, words) for part in plate.parts)
    return f"Named parts: {', '.join(named)}."


def _whole(plate: Plate, words: Words, name: str, parts: list[str], names: list[str], says: str) -> str:
    behind = group([shape(each) for each in plate.behind], "behind")
    return drawing(f"plate-{name}", plate.name, says, (WIDTH, plate.height), [behind, *parts, *names], "plate")


def _says(part: PlatePart, words: Words) -> str:
    return part.says or words[part.of]


def _part(part: PlatePart, words: Words, address: Address, style: str = "") -> str:
    shapes = [shape(each) for each in part.draw]
    title = f"<title>{escape(words[part.of], quote=False)}</title>"
    return link(address(part.of), [title, *shapes], f"part {style}".strip()) if shapes else ""


def _name(part: PlatePart, says: str, href: str) -> str:
    """A label with the line to what it names."""
    at = point(part.label)
    return _leader(part, says) + link(href, [text(at, says, "name", part.anchor)], "part")


def _number(part: PlatePart, place: int, says: str) -> str:
    """A number in a ring where the label would begin."""
    left, right, middle = _edges(part, says)
    at = (right - 9 if part.anchor == "end" else left + 9 if part.anchor == "start" else (left + right) / 2, middle)
    target = point(part.at) if part.at else at
    return line(at, target, "thin") + circle(at, 10, "paper") + text((at[0], at[1] + 5), str(place), "count")


def _edges(part: PlatePart, says: str) -> tuple[float, float, float]:
    """Left, right and middle height of a label."""
    x, y = point(part.label)
    wide = text_width(says)
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[part.anchor]
    return left, left + wide, y - SIZE * 0.32


def _leader(part: PlatePart, says: str) -> str:
    """A thin line from the nearest edge of the label to the point that it names."""
    if not part.at:
        return ""
    left, right, middle = _edges(part, says)
    target = point(part.at)
    start: Point = (left - 2, middle) if target[0] < left else (right + 2, middle) if target[0] > right else (target[0], middle + (8 if target[1] > middle else -8))
    return line(start, target, "thin") + circle(target, 1.5, "solid")
