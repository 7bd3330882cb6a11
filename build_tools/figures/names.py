"""Names around a drawing: each with a line to what it names, leading to the page of its word; or numbers in their places, to fill in."""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from build_tools.figures.svg import SIZE, Point, circle, likely_width, line, link, rectangle, text, text_width

TOUCH = 24.0  # px: the least height of what is tapped


@dataclass(frozen=True)
class Name:
    """One name: where its letters begin, stand in the middle or end by `anchor`, the point it names, and its word where that says more."""

    says: str
    at: Point
    target: Point | None = None
    anchor: str = "start"
    word: str = ""

    def edges(self, wide: float) -> tuple[float, float]:
        """Left and right for letters so wide."""
        left = {"start": self.at[0], "middle": self.at[0] - wide / 2, "end": self.at[0] - wide}[self.anchor]
        return left, left + wide

    @property
    def middle(self) -> float:
        """The height of the middle of its letters."""
        return self.at[1] - SIZE * 0.32


def named(names: Sequence[Name], addresses: Mapping[str, str]) -> list[str]:
    """All names; `addresses` leads from a word to its page."""
    return [with_link(name, addresses.get(name.word or name.says, "")) for name in names]


def with_link(name: Name, href: str) -> str:
    """One name with its line; what can be tapped is taller than the letters."""
    letters = text(name.at, name.says, "name", name.anchor)
    left, right = name.edges(text_width(name.says))
    room = rectangle(left, name.middle - TOUCH / 2, right - left, TOUCH, "hit") if href else ""
    return _leader(name) + link(href, [room, letters], "part")


def in_order(names: Sequence[Name]) -> list[tuple[int, Name]]:
    """The names counted from one, down the left side and then down the right."""
    return list(enumerate(sorted(names, key=lambda name: (name.anchor == "end", name.at[1])), 1))


def numbered(names: Sequence[Name]) -> list[str]:
    """A number in a ring where each name would begin."""
    return [_number(name, place) for place, name in in_order(names)]


def _number(name: Name, place: int) -> str:
    left, right = name.edges(text_width(name.says))
    at = ({"start": left + 9, "middle": (left + right) / 2, "end": right - 9}[name.anchor], name.middle)
    return line(at, name.target or at, "thin") + circle(at, 10, "paper") + text((at[0], at[1] + 5), str(place), "count")


def _leader(name: Name) -> str:
    """A thin line from the nearest edge of the letters to the point that they name."""
    if name.target is None:
        return ""
    left, right = name.edges(likely_width(name.says))
    middle, (x, y) = name.middle, name.target
    start: Point = (left - 2, middle) if x < left else (right + 2, middle) if x > right else (x, middle + (8 if y > middle else -8))
    return line(start, name.target, "thin") + circle(name.target, 1.5, "solid")
