"""`explain`: what a problem code means, with an example of wrong and right."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from dataclasses import asdict

from build_tools.problem import Code, codes, did_you_mean


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """One code, or none for the list of all."""
    parser.add_argument("code", nargs="?", metavar="CODE", help="such as KB030; without it, all codes are listed")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args: argparse.Namespace) -> int:
    """0: explained; 2: no such code."""
    known = codes()
    if args.code is None:
        print(_as_json(known) if args.json else "\n".join(f"{name}  {code.title}" for name, code in known.items()))
        return 0
    name = args.code.upper()
    if name not in known:
        print(f"there is no code {args.code}; {did_you_mean(name, known, 'explain without a code lists them all')}", file=sys.stderr)
        return 2
    print(_as_json({name: known[name]}) if args.json else _explained(name, known[name]))
    return 0


def _as_json(table: dict[str, Code]) -> str:
    return json.dumps({name: asdict(code) for name, code in table.items()}, ensure_ascii=False, indent=2)


def _explained(name: str, code: Code) -> str:
    parts = [f"{name}  {code.title}", textwrap.fill(" ".join(code.explanation.split()), 100)]
    for heading, example in (("wrong:", code.wrong), ("right:", code.right)):
        if example:
            parts.append(f"{heading}\n{textwrap.indent(example, '    ')}")
    return "\n\n".join(parts)
