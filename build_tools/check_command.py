"""`check`: all problems of all entries in one run."""

from __future__ import annotations

import argparse
import gc
import sys
from pathlib import Path
from typing import Sequence

from build_tools import report
from build_tools.checks import run_checks
from build_tools.library import PROJECT, read_library
from build_tools.problem import Problem


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which problems to list, and in which form."""
    parser.add_argument("paths", nargs="*", metavar="PATH", help="list only the problems of these entries or folders (all are checked)")
    parser.add_argument("--root", default=str(PROJECT), metavar="FOLDER", help="the folder that holds kb (default: this project)")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print JSON")
    form.add_argument("--ci", action="store_true", help="print ::error annotations for a build service, then the list")


def run(args: argparse.Namespace) -> int:
    """0: no problems; 1: problems; 2: no such folder or entry."""
    root = Path(args.root).resolve()
    try:
        wanted = _wanted(args.paths, root)
    except FileNotFoundError as error:
        print(error, file=sys.stderr)
        return 2
    problems, checked = _checked(root)
    problems = [problem for problem in problems if _is_wanted(problem, wanted)]
    _print(args, problems, checked)
    return 1 if problems else 0


def problems_in_words() -> str:
    """All problems of this project's entries as `check` prints them; an empty text when there are none."""
    problems, checked = _checked(PROJECT)
    return report.for_people(problems, checked) if problems else ""


def _checked(root: Path) -> tuple[list[Problem], int]:
    """All problems, and how many files there are. What is read stays until the end, so looking for rubbish in it would cost a fifth of the time."""
    gc.disable()
    try:
        library, found = read_library(root)
        return run_checks(library, found), len(library.files) + len(library.broken)
    finally:
        gc.freeze()
        gc.enable()


def _wanted(paths: Sequence[str], root: Path) -> list[str]:
    """The paths as problems name them; typed from the current folder or from the root."""
    if not (root / "kb").is_dir():
        raise FileNotFoundError(f"{root} has no folder kb; name the folder that holds it after --root")
    wanted = []
    for path in paths:
        places = [place.resolve() for place in (Path.cwd() / path, root / path) if place.exists()]
        inside = [place for place in places if place.is_relative_to(root)]
        if not inside:
            raise FileNotFoundError(f"{path} is no entry or folder of {root / 'kb'}")
        wanted.append(inside[0].relative_to(root).as_posix())
    return wanted


def _is_wanted(problem: Problem, wanted: Sequence[str]) -> bool:
    path = problem.place.path
    return not wanted or any(path == each or path.startswith(f"{each}/") or each == "." for each in wanted)


def _print(args: argparse.Namespace, problems: list[Problem], checked: int) -> None:
    if args.json:
        print(report.as_json(problems, checked))
        return
    if args.ci and problems:
        print(report.as_annotations(problems))
    print(report.for_people(problems, checked))
