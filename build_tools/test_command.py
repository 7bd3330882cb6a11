"""The ``test`` command: every test, by pytest."""
from __future__ import annotations

import argparse
import os

from build_tools.environment import ROOT


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.epilog = (
        "Arguments that are not known here go to pytest, for example: test -k great-wheel, or test tests/test_layers.py -x. "
        "Without a browser on the machine the browser tests are skipped, and a sentence says so; with CI=true that is a failure."
    )


def run(args: argparse.Namespace) -> int:
    """Run pytest from the root of the checkout; 0 when everything passed."""
    import pytest

    os.chdir(ROOT)
    return int(pytest.main(args.passed_on))
