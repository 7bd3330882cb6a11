"""``site``: check the knowledge base and build the site, or write its pages as Markdown."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from build_tools.checks import run_checks
from build_tools.environment import ROOT
from build_tools.library import read_library
from build_tools.render import pages
from build_tools.report import for_people
from build_tools.site_build import SITE, build_site


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command line of ``site``."""
    parser.description = "Check the knowledge base and build the site into the folder site/."
    parser.add_argument("--pages", metavar="FOLDER", type=Path, help="write the generated pages as Markdown into FOLDER instead")


def run(args: argparse.Namespace) -> int:
    """Build; 0 when the new site (or the pages) stands, 1 when something was wrong and the old one still does."""
    lines = _write_pages(ROOT, args.pages) if args.pages else build_site(ROOT, os.environ.get("SITE_URL", ""))
    if lines:
        print("\n".join(lines), file=sys.stderr)
        print("The site was not changed.", file=sys.stderr)
        return 1
    print(f"Written to {args.pages or SITE}/")
    return 0


def _write_pages(root: Path, folder: Path) -> list[str]:
    """Write each generated page below ``folder``; returns what is wrong, and then writes nothing."""
    library, problems = read_library(root)
    problems = run_checks(library, problems)
    if problems:
        return [for_people(problems, len(library) + len(library.broken))]
    try:
        for path, text in pages(library).items():
            target = folder / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
    except OSError as error:
        return [f"{folder}: cannot write there ({error.strerror}); name another folder"]
    return []
