"""A site on an address of its own that can be cut off, and what went over the line."""
from __future__ import annotations

import gzip
import threading
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import BinaryIO

from tests.conftest import Quiet, Server

PACKED_ALREADY = (".pack", ".png", ".woff2")


@dataclass(frozen=True)
class Sent:
    """The body of one answer: its bytes as they are, and as a web server that compresses sends them."""

    path: str
    plain: int
    compressed: int


class Counting(Quiet):
    """Notes what it sends; what the browser has already and need not be sent again is not among it."""

    def copyfile(self, source: BinaryIO, outputfile: BinaryIO) -> None:
        body = source.read()
        compressed = body if self.path.endswith(PACKED_ALREADY) else gzip.compress(body, 6)
        self.server.sent.append(Sent(self.path, len(body), len(compressed)))
        outputfile.write(body)


class Network:
    """Serves a folder until it is cut off for good."""

    def __init__(self, folder: Path) -> None:
        self.http = Server(("127.0.0.1", 0), partial(Counting, directory=str(folder)))
        self.http.sent = []
        self.address = f"http://127.0.0.1:{self.http.server_port}/"
        threading.Thread(target=self.http.serve_forever, daemon=True).start()

    @property
    def sent(self) -> list[Sent]:
        return self.http.sent

    def cut(self) -> None:
        self.http.shutdown()
        self.http.server_close()
