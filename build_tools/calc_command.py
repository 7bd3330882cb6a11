"""calc: works one calculation from name=value arguments, in words or as JSON."""
from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable
from difflib import get_close_matches
from typing import TYPE_CHECKING

from build_tools.answer import NoAnswer, answer
from build_tools.calc_catalogue import catalogue, catalogue_as_text
from build_tools.calc_output import answer_as_data, answer_as_text
from build_tools.calculate import calculations
from build_tools.given import GivenError
from build_tools.library import read_library
from build_tools.number import NumberError

if TYPE_CHECKING:
    from build_tools.library import Library
    from build_tools.model import Calculation

OK, NO_ANSWER, USAGE = 0, 1, 2
MOST_ARGUMENTS = 60


class CalcError(ValueError):
    """One line for whoever typed the command."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of calc."""
    parser.add_argument("id", nargs="?", metavar="ID", help="which calculation; --list says what there is")
    parser.add_argument("given", nargs="*", metavar="name=value", help="an input or a result; a blank value is solved for")
    parser.add_argument("--list", action="store_true", help="list every calculation, or with ID its inputs and results")
    parser.add_argument("--json", action="store_true", help="write JSON")


def run(args: argparse.Namespace) -> int:
    """Answers; 0 when there is an answer, 1 when there is none, 2 when the input can't be used."""
    library, _ = read_library()
    try:
        if args.list or not args.id:
            return _list(args, library)
        return _answer(find(args.id, library), read_arguments(args.given), library, args.json)
    except (CalcError, GivenError) as error:
        return _complain(error, USAGE, args.json)
    except (NoAnswer, NumberError) as error:
        return _complain(error, NO_ANSWER, args.json)


def _list(args: argparse.Namespace, library: Library) -> int:
    if not args.list:
        raise CalcError("which calculation? calc --list says what there is")
    chosen = [find(args.id, library)] if args.id else calculations(library)
    print(_dumped(catalogue(chosen, library)) if args.json else catalogue_as_text(chosen, library, bool(args.id)))
    return OK


def _answer(calculation: Calculation, typed: dict[str, str], library: Library, as_json: bool) -> int:
    answered = answer(calculation, typed, library)
    print(_dumped(answer_as_data(calculation, answered, library)) if as_json else answer_as_text(calculation, answered, library))
    return NO_ANSWER if answered.solved and not answered.solved.fits else OK


def _complain(error: Exception, status: int, as_json: bool) -> int:
    """Says what is wrong, a line for each field; as JSON the first, and all of them in `errors`."""
    each = [{"error": " ".join(str(one).split()), "field": getattr(one, "field", None)} for one in (error, *getattr(error, "others", ()))]
    if as_json:
        print(_dumped({**each[0], "errors": each}))
    for one in each:
        print(f"calc: {one['error']}", file=sys.stderr)
    return status


def _dumped(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2)


def find(name: str, library: Library) -> Calculation:
    """The calculation of that id; raises CalcError that suggests the nearest."""
    known = {entry.id: entry for entry in calculations(library)}
    wanted = name.removeprefix("calculation:")
    if wanted in known:
        return known[wanted]
    near = [id for id in known if wanted.lower() in id] or get_close_matches(wanted.lower(), known, 1, 0.5)
    raise CalcError(f"there is no calculation called {name[:60]}; " + (f"did you mean {' or '.join(near[:3])}?" if near else "calc --list says what there is"))


def read_arguments(arguments: Iterable[str]) -> dict[str, str]:
    """name=value arguments by name; raises CalcError for one without a name, or named twice."""
    typed: dict[str, str] = {}
    for argument in arguments:
        name, equals, value = argument.partition("=")
        if not equals or not name.strip():
            raise CalcError(f"'{argument[:60]}' is not name=value, such as escape_teeth=30")
        if name.strip() in typed:
            raise CalcError(f"{name.strip()} is given twice; give it once")
        typed[name.strip()] = value
    if len(typed) > MOST_ARGUMENTS:
        raise CalcError(f"{len(typed)} values are too many for one calculation")
    return typed
