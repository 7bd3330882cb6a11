"""Where a Chromium may be found on a machine."""
from __future__ import annotations

import os
import shutil
from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
PLACES = {
    "/": (
        "Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
        "Applications/Chromium.app/Contents/MacOS/Chromium",
        "Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    ),
    **{
        os.environ.get(variable, ""): (r"Google\Chrome\Application\chrome.exe", r"Microsoft\Edge\Application\msedge.exe", r"Chromium\Application\chrome.exe")
        for variable in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
    },
}
MISSING = "no Chromium, Chrome or Edge was found on this machine; install one (on Debian: sudo apt install chromium) and run the tests again"


def find_chromium() -> str | None:
    """The path of a Chromium, Chrome or Edge, or None."""
    on_path = next((path for name in NAMES if (path := shutil.which(name))), None)
    usual = (Path(base, place) for base, places in PLACES.items() if base for place in places)
    return on_path or next((str(path) for path in usual if path.is_file()), None)
