"""What a file turns into when it is read: plain data, and where each piece of it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from build_tools.problem import Place, Problem

DataPath = tuple[str | int, ...]
Spot = tuple[int, int]


class Block(str):
    """Text that stood in the file as a block (after `>` or `|`); ending white space is taken off."""

    __slots__ = ()


@dataclass(slots=True)
class Spots:
    """Line and column of every value and of every field's name, by path."""

    values: dict[DataPath, Spot] = field(default_factory=dict)
    names: dict[DataPath, Spot] = field(default_factory=dict)


@dataclass
class Loaded:
    """One file: `data`, what the loader refuses, and where each value and key stands, looked for when first asked.

    A path names the way to a value, such as ("told_by", "question:swing") or ("answers", 0, "says").
    """

    path: str
    text: str = ""
    data: dict[str, Any] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    find_spots: Callable[[], Spots] = Spots

    @cached_property
    def all_spots(self) -> Spots:
        """Every spot of the file."""
        return self.find_spots()

    @property
    def spots(self) -> dict[DataPath, Spot]:
        """Where each value begins, by its path."""
        return self.all_spots.values

    @property
    def key_spots(self) -> dict[DataPath, Spot]:
        """Where the name of each field begins, by the path of its value."""
        return self.all_spots.names

    def place(self, *path: str | int) -> Place:
        """Where the value at `path` stands, or the nearest thing around it that the file has."""
        return self._nearest(self.spots, path)

    def key_place(self, *path: str | int) -> Place:
        """Where the name of the field at `path` stands, or the nearest thing around it."""
        if path in self.key_spots:
            return Place(self.path, *self.key_spots[path])
        return self._nearest(self.spots, path)

    def place_of_words(self, path: DataPath, words: str, occurrence: int = 0) -> Place:
        """Where `words` stand inside the text at `path`, counting from 0; the text's own place if they run over lines."""
        start = self.place(*path)
        lines = self.text.split("\n")[start.line - 1 :]
        seen = 0
        for number, line in enumerate(lines):
            column = line.find(words, start.column - 1 if number == 0 else 0)
            while column >= 0:
                if seen == occurrence:
                    return Place(self.path, start.line + number, column + 1)
                seen += 1
                column = line.find(words, column + 1)
        return start

    def _nearest(self, spots: dict[DataPath, Spot], path: DataPath) -> Place:
        while path and path not in spots:
            path = path[:-1]
        return Place(self.path, *spots.get(path, (1, 1)))


def field_name(path: DataPath, data: Any = None) -> str:
    """The path in the contributor's words: `arbors.centre.pinion`; a list item goes by its id or name, else by its number from 1."""
    words = []
    for step in path:
        data = _inside(data, step)
        words.append(_item_name(step, data) if isinstance(step, int) else step)
    return ".".join(words) or "this file"


def _inside(data: Any, step: str | int) -> Any:
    try:
        return data[step]
    except (KeyError, IndexError, TypeError):
        return None


def _item_name(step: int, item: Any) -> str:
    named = item.get("id") or item.get("name") if isinstance(item, dict) else None
    return named if isinstance(named, str) else str(step + 1)
