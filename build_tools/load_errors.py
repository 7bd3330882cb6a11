"""libyaml's complaints in the words of someone who writes entries."""

from __future__ import annotations

import re

import yaml

_OPENING_SIGN = re.compile(r"""(?::|-) +(\[\[|[\[{*&"'])""")
_OPEN_QUOTE = re.compile(r"""^ *(?:- )?[a-z_]+: +(?:"[^"]*|'[^']*)$""")
_UNBRACED = re.compile(r"""^ *- [a-z_]+: [^"'{\[]*, [a-z_]+: """)
_BLOCK = "put `>` after the colon and the text below it, two spaces further in"

_QUOTES = ("quotes were opened and not closed", "close the quotes at the end of the value")
_LONE_MARK = ("a value can't begin with ?, or is missing here", "leave the field out when nothing is known; put text that begins with ? in quotes")

# What libyaml says (a part of it), what that means here, and what to do.
_SAID: tuple[tuple[str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "a second `: ` stands on this line, or the line is set in too far",
        f"put the value in quotes, or {_BLOCK}",
    ),
    ("could not find expected ':'", "a field's name without a colon after it", "write `name: value`, with a space after the colon; text that belongs to the field above is set in by two spaces"),
    ("found character that cannot start any token", "a value can't begin with this sign", "put the value in quotes"),
    ("found unexpected end of stream", *_QUOTES),
    (
        "did not find expected ',' or '}'",
        "the { } list is not closed, or a comma is missing, or text in it needs quotes",
        "put each text that holds , : { } [ ] in quotes",
    ),
    (
        "did not find expected ',' or ']'",
        "the [ ] list is not closed, or a comma is missing, or text in it needs quotes",
        "put each text that holds , : [ ] in quotes; a sentence that begins with [[ must stand below `>`",
    ),
    (
        "did not find expected key",
        "this line is not set in like its neighbours, or text goes on after its closing quotes",
        "set fields of the same group equally far in",
    ),
    (
        "did not find expected '-' indicator",
        "this line is not set in like the other items of the list",
        "begin each item with `- `, all equally far in",
    ),
    (
        "block sequence entries are not allowed",
        "a list item can't stand on this line",
        "put each `- item` on a line of its own below the field",
    ),
    (
        "did not find expected alphabetic or numeric character",
        "a value can't begin with & or * unless it is in quotes",
        "put the value in quotes",
    ),
    ("mapping keys are not allowed", *_LONE_MARK),
    ("did not find expected node content", *_LONE_MARK),
    ("while scanning a directive", "a line can't begin with %", "put the value in quotes"),
    ("found unknown escape character", "in double quotes, \\ has a special meaning", "use single quotes round the value"),
    ("control characters are not allowed", "an invisible control character stands here", "delete it and type the text again"),
    ("undefined tag handle", "a value can't begin with ! unless it is in quotes", "put the value in quotes"),
    ("did not find expected <document start>", "text goes on after the end of the entry", "set the line in like the fields above it"),
)


def explain_yaml_error(error: yaml.YAMLError, text: str) -> tuple[int, int, str, str]:
    """Line, column (from 1), what is wrong and what to do, for an error raised by libyaml over `text`."""
    line, column = _spot(error, text)
    opened = _open_quote(text.split("\n")[:line])
    if opened:
        return *opened, *_QUOTES
    said = f"{getattr(error, 'context', '')} {getattr(error, 'problem', '')} {getattr(error, 'reason', '')}"
    sign = _OPENING_SIGN.search(text.split("\n")[line - 1]) if "expected key" in said else None
    if sign:
        return line, column, f"text goes on after a value that begins with {sign[1]}", _BLOCK
    if "mapping values" in said and _UNBRACED.match(text.split("\n")[line - 1]):
        return line, column, "several fields stand on one line without { } round them", "put { } round them, as in: - {name: third, wheel: 56}"
    for part, what, hint in _SAID:
        if part in said:
            return line, column, what, hint
    return line, column, "this can't be read as YAML", "compare the line and the one above it with a finished entry of the same kind"


def _open_quote(lines: list[str]) -> tuple[int, int] | None:
    """Line and column (from 1) of the first quotes that their own line does not close; what libyaml trips over stands further down."""
    for number, line in enumerate(lines, 1):
        if _OPEN_QUOTE.match(line):
            return number, min(line.find(sign) for sign in "\"'" if sign in line) + 1
    return None


def _spot(error: yaml.YAMLError, text: str) -> tuple[int, int]:
    mark = getattr(error, "problem_mark", None)
    if "quoted scalar" in str(getattr(error, "context", "")):
        mark = getattr(error, "context_mark", mark)
    if mark is not None:
        return mark.line + 1, mark.column + 1
    before = text[: getattr(error, "position", 0)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")
