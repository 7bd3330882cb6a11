"""`new`: starts an entry, with every required field in it and a word on each."""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path

from build_tools.library import PROJECT
from build_tools.problem import did_you_mean
from build_tools.scaffold import path_of, skeleton
from build_tools.schema import FOLDERS, schema


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Kind and id of the new entry."""
    parser.add_argument("kind", metavar="KIND", help=", ".join(FOLDERS))
    parser.add_argument("id", metavar="ID", help="the entry's name in small letters, digits and hyphens: great-wheel")
    parser.add_argument("--root", default=str(PROJECT), metavar="FOLDER", help="the folder that holds kb (default: this project)")


def run(args: argparse.Namespace) -> int:
    """0: written; 2: no such kind, a malformed id, or the entry is there already."""
    refusal = _refusal(args.kind, args.id, Path(args.root))
    if refusal:
        print(refusal, file=sys.stderr)
        return 2
    path = path_of(args.kind, args.id)
    target = Path(args.root) / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(skeleton(args.kind, args.id), encoding="utf-8", newline="\n")
    print(f"{path} is begun: put facts in place of the dots, then run the command check")
    return 0


def _refusal(kind: str, id: str, root: Path) -> str:
    if kind not in FOLDERS:
        return f"there is no kind {kind}; {did_you_mean(kind, FOLDERS, 'the kinds are: ' + ', '.join(FOLDERS))}"
    if not re.search(schema(kind)["properties"]["id"]["pattern"], id):
        return f"{id} can't be an id; write small letters, digits and single hyphens, such as great-wheel"
    if (root / path_of(kind, id)).exists():
        return f"{path_of(kind, id)} is there already; open it, or choose another id"
    return ""
