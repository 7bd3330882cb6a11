"""Words beside what they name: places are chosen so that no two labels overlap and none leaves the drawing."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from build_tools.figures.svg import LETTER, SIZE, Point, text_width


@dataclass(frozen=True)
class Box:
    """The rectangle that lines of letters take up, in pixels."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        return self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom

    def within(self, size: Point) -> bool:
        return self.left >= 0 and self.top >= 0 and self.right <= size[0] and self.bottom <= size[1]


def box(middle: Point, lines: Sequence[str], size: float = SIZE) -> Box:
    """The rectangle of centred lines around a middle."""
    half = max(text_width(line, size) for line in lines) / 2
    tall = len(lines) * size * 1.15 / 2
    return Box(middle[0] - half, middle[1] - tall, middle[0] + half, middle[1] + tall)


def settle(choices: Sequence[Sequence[Box]], size: Point) -> list[int] | None:
    """For each label the first of its boxes that can stand with the others, all within `size`; None when there is no way."""
    chosen: list[int] = []

    def place(number: int) -> bool:
        if number == len(choices):
            return True
        for index, candidate in enumerate(choices[number]):
            if candidate.within(size) and not any(candidate.meets(choices[n][chosen[n]]) for n in range(number)):
                chosen.append(index)
                if place(number + 1):
                    return True
                chosen.pop()
        return False

    return chosen if place(0) else None


def spread(wanted: Sequence[float], gap: float, least: float, most: float) -> list[float]:
    """Heights as near to the wanted ones as a gap between neighbours allows, in the same order from top to bottom; wanted must rise."""
    found = [max(least, height) for height in wanted]
    for place in range(1, len(found)):
        found[place] = max(found[place], found[place - 1] + gap)
    if found and found[-1] > most:
        found[-1] = most
        for place in range(len(found) - 2, -1, -1):
            found[place] = min(found[place], found[place + 1] - gap)
    return found


def cut(words: str, width: float, size: float = SIZE) -> list[str]:
    """Words in lines no wider than `width`."""
    letters = max(4, int(width / (size * LETTER)))
    lines: list[str] = []
    for word in words.split():
        if lines and len(lines[-1]) + 1 + len(word) <= letters:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
