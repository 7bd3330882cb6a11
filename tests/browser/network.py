"""A site on an address of its own that can be cut off."""
from __future__ import annotations

import threading
from functools import partial
from pathlib import Path

from tests.conftest import Quiet, Server


class Network:
    """Serves a folder until it is cut off for good."""

    def __init__(self, folder: Path) -> None:
        self.http = Server(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
        self.address = f"http://127.0.0.1:{self.http.server_port}/"
        threading.Thread(target=self.http.serve_forever, daemon=True).start()

    def cut(self) -> None:
        self.http.shutdown()
        self.http.server_close()
