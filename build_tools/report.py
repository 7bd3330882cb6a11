"""Problems as text: for people, as JSON, and as annotations that build services show beside the changed lines."""

from __future__ import annotations

import json
from typing import Sequence

from build_tools.problem import Problem


def for_people(problems: Sequence[Problem], entries: int) -> str:
    """One line a problem with its hint below, and a closing line with the counts."""
    lines = [line for problem in problems for line in _lines(problem)]
    files = len({problem.place.path for problem in problems})
    if problems:
        lines.append(
            f"{_counted(len(problems), 'problem')} in {_counted(files, 'file')}; {_counted(entries, 'file')} checked. What a code means: explain CODE"
        )
    else:
        lines.append(f"no problems; {_counted(entries, 'file')} checked")
    return "\n".join(lines)


def as_json(problems: Sequence[Problem], entries: int) -> str:
    """{"checked": number of files, "problems": [{code, path, line, column, field, what, hint}]}."""
    rows = [
        {
            "code": problem.code,
            "path": problem.place.path,
            "line": problem.place.line,
            "column": problem.place.column,
            "field": problem.field,
            "what": problem.what,
            "hint": problem.hint,
        }
        for problem in problems
    ]
    return json.dumps({"checked": entries, "problems": rows}, ensure_ascii=False, indent=2)


def as_annotations(problems: Sequence[Problem]) -> str:
    """One workflow command `::error file=...,line=...,col=...,title=...::text` a problem."""
    return "\n".join(
        f"::error file={_property(problem.place.path)},line={problem.place.line},col={problem.place.column},title={problem.code}"
        f"::{_message(f'{problem.field}: {problem.what} (hint: {problem.hint})')}"
        for problem in problems
    )


def _lines(problem: Problem) -> tuple[str, str]:
    return f"{problem.place}: {problem.code} {problem.field}: {problem.what}", f"    hint: {problem.hint}"


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


def _message(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _message(text).replace(":", "%3A").replace(",", "%2C")
