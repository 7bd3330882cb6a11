"""The built site put in place of the old one, but only when nothing was found wrong with it."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from build_tools import mkdocs_hook

SITE = "site"


def build_site(root: Path, site_url: str = "", offline: bool = True) -> list[str]:
    """Build into a folder beside ``site`` and change places when all went well.

    Returns the lines that say what is wrong; with none the new site stands in ``root/site``,
    otherwise whatever stood there still does. Without ``offline`` no browser is asked to keep the site.
    """
    beside = Path(tempfile.mkdtemp(prefix=".site-", dir=root))
    beside.chmod(0o755)  # a temporary folder is closed to everybody else, which a web server may be
    try:
        lines = mkdocs_hook.build(root, beside / "new", site_url, offline)
        if not lines:
            _change_places(beside, root / SITE)
        return lines
    except OSError as error:
        return [f"{SITE}: the new site could not be put in place ({error}); close whatever holds the folder and try again"]
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def _change_places(beside: Path, site: Path) -> None:
    """Move ``beside/new`` to ``site``; what stood there goes to ``beside/old``, and back if the move fails."""
    (beside / "new").chmod(0o755)
    had_one = site.exists()
    if had_one:
        site.rename(beside / "old")
    try:
        (beside / "new").rename(site)
    except OSError:
        if had_one:
            (beside / "old").rename(site)
        raise
