"""The ``test`` command: every test, by pytest."""
from __future__ import annotations

import argparse
import os

from build_tools.environment import ROOT

WHOLE_SUITE = ["--numprocesses", "2", "--dist", "worksteal"]  # two cores; whoever is done takes over half of what the other has left


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what happens to arguments; the command has none of its own."""
    parser.epilog = (
        "Arguments that are not known here go to pytest, for example: test -k great-wheel, or test tests/test_layers.py -x. "
        "Without a browser on the machine the browser tests are skipped, and a sentence says so; with CI=true that is a failure."
    )


def run(args: argparse.Namespace) -> int:
    """Run pytest from the root of the checkout; 0 when everything passed."""
    import pytest

    os.chdir(ROOT)
    return int(pytest.main(args.passed_on or WHOLE_SUITE))
