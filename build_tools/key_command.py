"""The command ``key``: rank what a clock may be from the answers given, and ask on."""

from __future__ import annotations

import argparse
import json
import sys
from typing import Any

from build_tools import key_measured
from build_tools.checks.key import TABLES
from build_tools.key import Key
from build_tools.key_answers import Unclear, facets, read_answers, read_facet, read_viewpoint
from build_tools.key_report import as_data, as_text, catalogue, catalogue_text
from build_tools.library import Library, read_library
from build_tools.report import for_people


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``key``."""
    parser.add_argument("facet", nargs="?", metavar="FACET", help="what is to be told apart, such as trains or drive")
    parser.add_argument("answers", nargs="*", metavar="QUESTION=ANSWER", help="what was seen or heard; cant-tell is always an answer")
    parser.add_argument("--viewpoint", default="", metavar="ID", help="where you stand, such as dial-shut: only what can be told from there is asked")
    parser.add_argument("--measured", action="append", default=[], metavar="NAME=NUMBER",
                        help="what was counted or measured, such as ticks=60 or pendulum='10 in': which standard counts fit; with a facet it answers the key, too")
    parser.add_argument("--list", action="store_true", help="list facets, viewpoints, questions and answers")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args: argparse.Namespace) -> int:
    """0: ranked outcomes; 1: nothing fits, or a table of the key can't be used; 2: something typed is not understood."""
    library, problems = read_library()
    tables = {f"kb/constants/{table}.yaml" for table in TABLES}
    broken = [problem for problem in problems if problem.place.path in tables]
    if broken:
        print(for_people(broken, len(library) + len(library.broken)), file=sys.stderr)
        return 1
    try:
        if args.list:
            return _list(library, args)
        return _measured(library, args) if args.measured and not args.facet else _identify(library, args)
    except Unclear as unclear:
        if args.json:
            _print({"error": str(unclear)}, "", True)
        print(unclear, file=sys.stderr)
        return 2


def _list(library: Library, args: argparse.Namespace) -> int:
    """Everything that can be typed, for all facets or for one."""
    listed = catalogue(library, read_facet(library, args.facet) if args.facet else "")
    _print(listed, catalogue_text(listed), args.json)
    return 0


def _measured(library: Library, args: argparse.Namespace) -> int:
    """The standard counts beside the numbers; 1 when none fits or two numbers can't belong together."""
    numbers = key_measured.read_numbers(library, args.measured)
    judged = key_measured.judge(library, numbers)
    _print(key_measured.as_data(judged), key_measured.as_text(judged, list(numbers)), args.json)
    return 0 if judged.belong and (judged.fitting or judged.answers and not judged.contradicted) else 1


def _identify(library: Library, args: argparse.Namespace) -> int:
    if not args.facet:
        names = ", ".join(row.name for row in facets(library))
        raise Unclear(f"Say what is to be told apart: one of {names}.")
    key = Key(library, read_facet(library, args.facet))
    viewpoint = read_viewpoint(library, args.viewpoint)
    numbers = key_measured.read_numbers(library, args.measured)
    judged = key_measured.judge(library, numbers)
    answers = {**judged.answers, **read_answers(library, args.answers)}
    finding = key.find(answers, viewpoint)
    data = as_data(key, finding, answers, viewpoint, library)
    text = as_text(data)
    if numbers:
        data["measured"] = key_measured.as_data(judged)
        text += "\n\n" + key_measured.as_text(judged, list(numbers))
    _print(data, text, args.json)
    return 1 if finding.nothing_fits else 0


def _print(data: dict[str, Any], text: str, as_json: bool) -> None:
    print(json.dumps(data, indent=2, ensure_ascii=False) if as_json else text)
