"""The command line: finds the command, lets its own module read the arguments and run, and keeps every failure to one sentence."""
from __future__ import annotations

import argparse
import difflib
import importlib
import os
import re
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NoReturn

DETAILS = "BUILD_TOOLS_DETAILS"  # set to anything, it shows the traceback of an unexpected failure
OK, FAILED, USAGE, INTERRUPTED = 0, 1, 2, 130


@dataclass(frozen=True)
class Command:
    """One command: the module with its `add_arguments` and `run`, and a line for the help."""

    module: str
    help: str
    extra: str = "site"
    passes_on: bool = False  # whether arguments that it does not know go on to another program


COMMANDS = {
    "check": Command("check_command", "check every entry of the knowledge base and list all problems"),
    "site": Command("site_command", "check, then build the site into site/ (or the pages into a folder)"),
    "serve": Command("serve_command", "check, build and serve the site on this machine, again after each change"),
    "test": Command("test_command", "run every test; further arguments go to pytest", extra="test", passes_on=True),
    "calc": Command("calc_command", "work one calculation: calc ID name=value ...; a blank value is solved for"),
    "key": Command("key_command", "identify: key FACET question=answer ... ranks what it may be and asks on"),
    "diff": Command("diff_command", "what differs from another commit: entries, computed figures, pages"),
    "new": Command("new_command", "start a new entry of a kind from its pattern"),
    "explain": Command("explain_command", "say what a problem code means and what to do about it"),
}


class UsageError(Exception):
    """The arguments cannot be understood; the text is one line for the person who typed them."""


class Parser(argparse.ArgumentParser):
    """An argument parser that raises its complaint in place of printing two lines and leaving."""

    def error(self, message: str) -> NoReturn:
        command = self.prog.split()[-1]
        plain = message.replace("the following arguments are required:", f"{command} needs").removeprefix("argument ")
        raise UsageError(f"{plain} (see {self.prog} --help)")


def extra_for(arguments: list[str]) -> str | None:
    """Which extra the command needs, or None when the standard library will do (help, no command, an unknown one)."""
    command = COMMANDS.get(_chosen(arguments))
    return command.extra if command else None


def main(arguments: list[str]) -> int:
    """Run a command and return its exit status: 0 fine, 1 problems or no answer, 2 not understood, 130 interrupted."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a console without a letter shows ? for it and goes on
    try:
        status = _run(arguments)
        sys.stdout.flush()
        return status
    except UsageError as error:
        print(error, file=sys.stderr)
        return USAGE
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # or Python complains once more when it ends
        return FAILED
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        return _unexpected(error)


def _run(arguments: list[str]) -> int:
    chosen = _chosen(arguments)
    if chosen and chosen not in COMMANDS:
        raise UsageError(f"There is no command {chosen!r}: {_suggest(chosen, COMMANDS) or 'the commands are ' + ', '.join(COMMANDS) + '.'}")
    parser, sub = _parser(chosen)
    if not chosen:
        return _without_command(parser, arguments)
    module = importlib.import_module(f"build_tools.{COMMANDS[chosen].module}")
    module.add_arguments(sub)
    args, rest = _read(parser, sub, arguments, COMMANDS[chosen].passes_on)
    if rest and not COMMANDS[chosen].passes_on:
        known = [option for action in sub._actions for option in action.option_strings]
        raise UsageError(f"{chosen} does not know {rest[0]!r}: {_suggest(rest[0], known) or f'see {sub.prog} --help.'}")
    args.passed_on = rest
    return module.run(args)


def _read(parser: Parser, sub: Parser, arguments: list[str], passes_on: bool) -> tuple[argparse.Namespace, list[str]]:
    """What was typed; options may stand among the other words unless those go on to another program."""
    return parser.parse_known_args(arguments) if passes_on else sub.parse_known_intermixed_args(arguments[1:])


def _without_command(parser: Parser, arguments: list[str]) -> int:
    """Nothing but options was typed: help is one of them, no other is."""
    if arguments and arguments[0] not in ("-h", "--help"):
        raise UsageError(f"A command comes first, then its options: {', '.join(COMMANDS)}.")
    parser.print_help()
    return OK if arguments else USAGE


def _parser(chosen: str) -> tuple[Parser, Parser]:
    """The whole parser, and the part for the chosen command (only that one's module is ever loaded)."""
    program = "py -m build_tools" if os.name == "nt" else "python3 -m build_tools"
    parser = Parser(
        prog=program,
        description="The Clock Movement Reference: check the knowledge base, build the site, work a number, walk the key.",
        epilog=f"Exit status: 0 fine, 1 problems or no answer, 2 not understood. '{program} COMMAND --help' says more of one command.",
        allow_abbrev=False,
    )
    commands = parser.add_subparsers(metavar="COMMAND")
    parts = {
        name: commands.add_parser(name, prog=f"{program} {name}", help=command.help, description=_sentence(command.help), allow_abbrev=False)
        for name, command in COMMANDS.items()
    }
    return parser, parts.get(chosen, parser)


def _chosen(arguments: list[str]) -> str:
    """The command's name as typed, or an empty text when there is none."""
    return arguments[0] if arguments and not arguments[0].startswith("-") else ""


def _suggest(word: str, known: Iterable[str]) -> str:
    """A question with the closest known word, or an empty text when none is close."""
    close = difflib.get_close_matches(word.split("=")[0], list(known), n=1)
    return f"did you mean {close[0]}?" if close else ""


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + "."


def _unexpected(error: Exception) -> int:
    """What is wrong with the entries, if that is what it may come from; else the last resort: one sentence, with the way to see more."""
    if os.environ.get(DETAILS):
        raise error
    wrong = _problems_of_entries()
    if wrong:
        print(f"{wrong}\nThis can be answered once the entries are in order.", file=sys.stderr)
        return FAILED
    what = re.sub(r"\s+", " ", f"{type(error).__name__}: {error}".strip())
    print(f"Something went wrong inside the program ({what}). Set {DETAILS}=1 and run it again to see where; please report that.", file=sys.stderr)
    return FAILED


def _problems_of_entries() -> str:
    """What the check says, or an empty text when it finds nothing, or comes to grief itself."""
    try:
        return importlib.import_module("build_tools.check_command").problems_in_words()
    except Exception:
        return ""
