"""Strict YAML in one pass: plain data, and the position of every key and value.

YAML on its own turns `60:8` into 3608, `no` into false and `010` into 8, keeps the last of two equal keys and cuts a sentence at ` #`.
This loader reads libyaml's events itself, so it can read what the writer meant, or refuse with the place.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, Iterator

import yaml

from build_tools.load_errors import explain_yaml_error
from build_tools.load_plain import BLOCK_STYLES, DEEPEST, plain_data, plain_value
from build_tools.loaded import Block, DataPath, Loaded, field_name
from build_tools.problem import Place, Problem

LARGEST_FILE = 64 * 1024
_YAML_TAG = "tag:yaml.org,2002:"
_UNWANTED = "\t\x85\u2028\u2029\ufeff"  # tabs, and what YAML takes for a line break and editors do not show
_TRAILING_COMMENT = re.compile(r"(?<=\S)( +#)")


def load_file(path: Path, root: Path) -> Loaded:
    """Read one file below `root`."""
    shown = path.relative_to(root).as_posix()
    try:
        raw = path.read_bytes()
    except OSError:
        return _refused(shown, "KB001", 1, 1, "it can't be opened", "see that the file is there and that you may read it")
    if len(raw) > LARGEST_FILE:
        return _refused(shown, "KB002", 1, 1, f"it has {len(raw)} bytes; {LARGEST_FILE} is the most", "split it into several entries")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8", "replace")
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        return _refused(shown, "KB001", line, column, "a character here is not UTF-8 text", "save the file again with the encoding UTF-8")
    return load_text(text.replace("\r\n", "\n").replace("\r", "\n"), shown)


def load_text(text: str, path: str) -> Loaded:
    """Read YAML text; `path` is the file name to report."""
    unwanted = [text.index(mark) for mark in _UNWANTED if mark in text]
    if unwanted:
        first = min(unwanted)
        line, column = text.count("\n", 0, first) + 1, first - text.rfind("\n", 0, first)
        if text[first] == "\t":
            return _refused(path, "KB004", line, column, "there is a tab here", "use spaces: two for each step inwards")
        return _refused(path, "KB003", line, column, "an invisible line break or mark stands here", "delete it and type the text again")
    if not _may_hold_comments(text):
        data = plain_data(text)
        if data is not None:
            return Loaded(path, text, data, find_spots=lambda: read_carefully(text, path).all_spots)
    return read_carefully(text, path)


def _may_hold_comments(text: str) -> bool:
    return " #" in text and _TRAILING_COMMENT.search(text) is not None  # the first question alone is soon answered


def read_carefully(text: str, path: str) -> Loaded:
    """Read YAML text without unwanted signs, with the place of everything and every refusal."""
    reader = _Reader(Loaded(path, text))
    try:
        reader.read()
    except _TooDeep:
        reader.loaded.data = {}
    except yaml.YAMLError as error:
        line, column, what, hint = explain_yaml_error(error, text)
        return _refused(path, "KB003", line, column, what, hint)
    return reader.loaded


def _refused(path: str, code: str, line: int, column: int, what: str, hint: str) -> Loaded:
    return Loaded(path, problems=[Problem(code, Place(path, line, column), "this file", what, hint)])


class _Reader:
    """Turns the events of one file into data and spots."""

    def __init__(self, loaded: Loaded) -> None:
        self.loaded = loaded
        self.watch_comments = _may_hold_comments(loaded.text)
        self.scalar_spans: list[tuple[int, int]] = []
        self.events: Iterator[Any] = iter(yaml.CSafeLoader(loaded.text).get_event, None)

    def read(self) -> None:
        documents = 0
        for event in self.events:
            kind = type(event)
            if kind is yaml.DocumentStartEvent:
                documents += 1
                if documents > 1:
                    self.refuse(
                        "KB008", event, (), "a second document begins here", "keep one entry in a file; start a new file for the next"
                    )
                    return
                self.read_root(next(self.events))
        if not documents:
            self.loaded.problems.append(
                Problem(
                    "KB008",
                    Place(self.loaded.path),
                    "this file",
                    "it holds no entry",
                    "begin with `kind:` and `id:`, or use the command `new`",
                )
            )
        self.refuse_trailing_comments()

    def read_root(self, event: Any) -> None:
        value = self.value(event, ())
        if isinstance(value, dict):
            self.loaded.data = value
        else:
            self.refuse("KB008", event, (), "an entry is lines of the form `field: value`", "begin with `kind:` and `id:`")

    def value(self, event: Any, path: DataPath) -> Any:
        """The value that begins with `event`, with everything inside it."""
        start, kind = event.start_mark, type(event)
        self.loaded.spots[path] = (start.line + 1, start.column + 1)
        if kind is yaml.AliasEvent:
            self.refuse(
                "KB006", event, path, f"`*{event.anchor}` stands for something elsewhere in the file", "write the value out in full"
            )
            return None
        if event.anchor is not None:
            self.refuse(
                "KB006",
                event,
                path,
                f"`&{event.anchor}` gives this value a name",
                f"take `&{event.anchor}` away and write values out where they are needed",
            )
        if event.tag is not None:
            self.refuse(
                "KB007",
                event,
                path,
                f"`{event.tag.replace(_YAML_TAG, '!!')}` tells a program how to read the value",
                "take it away; quotes are enough to mark text",
            )
        if kind is yaml.ScalarEvent:
            return self.scalar(event, path)
        if len(path) >= DEEPEST:
            self.refuse(
                "KB011", event, path[:1], f"this is nested more than {DEEPEST} deep", "write it flatter; no field of an entry goes so deep"
            )
            raise _TooDeep()
        return self.mapping(path) if kind is yaml.MappingStartEvent else self.sequence(path)

    def scalar(self, event: Any, path: DataPath) -> Any:
        style, text = event.style, event.value
        if self.watch_comments:
            start = event.start_mark.index
            self.scalar_spans.append((self.loaded.text.find("\n", start) if style in BLOCK_STYLES else start, event.end_mark.index))
        if style in BLOCK_STYLES:
            return Block(text.rstrip())
        if event.start_mark.line != event.end_mark.line:
            self.refuse(
                "KB010",
                event,
                path,
                "the text runs on over several lines",
                "put `>` after the colon and the text below it, two spaces further in",
            )
        return text if style else plain_value(text)

    def mapping(self, path: DataPath) -> dict[str, Any]:
        result: dict[str, Any] = {}
        key_spots = self.loaded.key_spots
        while type(event := next(self.events)) is not yaml.MappingEndEvent:
            key = self.key(event, path)
            if key is None:
                self.value(next(self.events), path + ("?",))
                continue
            inner = path + (key,)
            if key in result:
                first = key_spots[inner][0]
                self.refuse(
                    "KB005", event, inner, f"the field stands here for the second time (first in line {first})", "keep one of the two"
                )
            start = event.start_mark
            key_spots[inner] = (start.line + 1, start.column + 1)
            result[key] = self.value(next(self.events), inner)
        return result

    def key(self, event: Any, path: DataPath) -> str | None:
        """The field's name, or None when it is refused."""
        if type(event) is not yaml.ScalarEvent:
            self.value(event, path + ("?",))
            self.refuse(
                "KB011",
                event,
                path,
                "a field's name must be plain text, not a list or group",
                "put quotes round the text if it begins with [ or {",
            )
            return None
        if event.anchor is not None:
            self.refuse("KB006", event, path, f"`&{event.anchor}` gives this name a name", f"take `&{event.anchor}` away")
        if event.value == "<<" and not event.style:
            self.refuse("KB006", event, path, "`<<` copies fields from elsewhere", "write the fields out in full")
            return None
        if self.watch_comments:
            self.scalar_spans.append((event.start_mark.index, event.end_mark.index))
        return event.value

    def sequence(self, path: DataPath) -> list[Any]:
        result: list[Any] = []
        while type(event := next(self.events)) is not yaml.SequenceEndEvent:
            result.append(self.value(event, path + (len(result),)))
        return result

    def refuse(self, code: str, event: Any, path: DataPath, what: str, hint: str) -> None:
        place = Place(self.loaded.path, event.start_mark.line + 1, event.start_mark.column + 1)
        self.loaded.problems.append(Problem(code, place, field_name(path), what, hint))

    def refuse_trailing_comments(self) -> None:
        """libyaml drops comments, and with them the end of any sentence that holds ` #`: so no comment may follow a value."""
        text = self.loaded.text if self.watch_comments else ""
        for found in _TRAILING_COMMENT.finditer(text):
            index = found.end() - 1
            line_start = text.rfind("\n", 0, index) + 1
            if text[line_start:index].lstrip().startswith("#") or any(start <= index < end for start, end in self.scalar_spans):
                continue
            place = Place(self.loaded.path, text.count("\n", 0, index) + 1, index - line_start + 1)
            self.loaded.problems.append(
                Problem(
                    "KB009",
                    place,
                    self.field_on_line(place.line),
                    "everything from # on is lost here, as a comment",
                    "quote the value if # belongs to it, or move the comment to a line of its own",
                )
            )

    def field_on_line(self, line: int) -> str:
        """The last field named at or above `line`."""
        paths = [path for path, spot in self.loaded.key_spots.items() if spot[0] <= line]
        return field_name(max(paths, key=lambda path: self.loaded.key_spots[path])) if paths else "this file"


class _TooDeep(Exception):
    """Ends the reading of a file that is nested beyond all need."""
