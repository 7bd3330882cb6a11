"""`diff`: what a change does to entries, computed figures and pages, for whoever reviews it."""
from __future__ import annotations

import argparse
import dataclasses
import io
import json
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Sequence
from pathlib import Path

from build_tools.changes import CHANGED, Change, changed_entries, changed_figures, changed_pages
from build_tools.checks import run_checks
from build_tools.environment import ROOT
from build_tools.library import Library, read_library

KEPT = ("kb", "tests/evidence")  # all that a library is read from
HEADS = {"entries": "Entries", "figures": "Computed figures", "pages": "Pages"}


class NoBase(Exception):
    """The state to compare with cannot be had; the text is one line for the person who asked."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """With what to compare, and in which form."""
    parser.description = "List the entries, computed figures and pages that differ from those of another commit, branch or tag."
    parser.add_argument("base", metavar="BASE", help="the commit, branch or tag to compare with, such as main")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args: argparse.Namespace) -> int:
    """0 whether or not anything differs; 2 where BASE is not known."""
    with tempfile.TemporaryDirectory() as folder:
        try:
            _unpack(args.base, Path(folder))
        except NoBase as error:
            print(error, file=sys.stderr)
            return 2
        (before, wrong_before), (now, wrong_now) = _read(Path(folder)), _read(ROOT)
        found = {"entries": changed_entries(before, now)}
        wrong = [f"{name} does not pass today's check (problems: {number})" for name, number in ((args.base, wrong_before), ("this folder", wrong_now)) if number]
        if not wrong:
            found |= {"figures": changed_figures(before, now), "pages": changed_pages(before, now)}
    print(_as_json(found, wrong) if args.json else _as_text(found, wrong, args.base))
    return 0


def _unpack(base: str, folder: Path) -> None:
    """Put what the knowledge base was at `base` into `folder`."""
    try:
        packed = subprocess.run(["git", "archive", "--format=tar", base, *KEPT], cwd=ROOT, capture_output=True)
    except OSError as error:
        raise NoBase(f"git cannot be started ({error.strerror}), and the older state is read with it: install git") from error
    if packed.returncode:
        raise NoBase(f"git knows no state '{base}' with a folder kb: name a commit, branch or tag, such as main or HEAD~1")
    with tarfile.open(fileobj=io.BytesIO(packed.stdout)) as archive:
        archive.extractall(folder, filter="data")


def _read(root: Path) -> tuple[Library, int]:
    """The knowledge base below `root`, and how many problems it has."""
    library, problems = read_library(root)
    return library, len(run_checks(library, problems))


def _as_json(found: dict[str, list[Change]], wrong: Sequence[str]) -> str:
    plain = {name: [{key: value for key, value in dataclasses.asdict(change).items() if value} for change in changes] for name, changes in found.items()}
    return json.dumps({**plain, "not_compared": list(wrong)}, ensure_ascii=False, indent=1)


def _as_text(found: dict[str, list[Change]], wrong: Sequence[str], base: str) -> str:
    lines = [f"Beside {base}:"]
    for name, changes in found.items():
        lines += ["", f"{HEADS[name]}: {len(changes) or 'none'} changed, new or gone", *(f"  {_line(change)}" for change in changes)]
    lines += ["", *(f"Figures and pages are not compared: {each}." for each in wrong)] if wrong else []
    return "\n".join(lines)


def _line(change: Change) -> str:
    if change.fields:
        return f"{change.what}: {', '.join(change.fields)}"
    if change.before or change.now:
        return f"{change.what}: {change.before or 'nothing'} → {change.now or 'nothing'}"
    return change.what if change.how == CHANGED else f"{change.what} ({change.how})"
