"""Locks between processes: one file each, held by many at a time (shared) or by one alone.

The operating system lets go of a lock when the process that holds it ends, however it ends, so none is ever left behind.
Standard library only.
"""
from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

POLL_SECONDS = 0.1
SEATS = 64  # Windows knows no shared locks: whoever shares takes one of these bytes, whoever wants to be alone takes all

if os.name == "nt":
    import msvcrt

    def _try(handle: int, shared: bool) -> bool:
        wanted = [(seat, 1) for seat in range(SEATS)] if shared else [(0, SEATS)]
        for start, length in wanted:
            os.lseek(handle, start, os.SEEK_SET)
            try:
                msvcrt.locking(handle, msvcrt.LK_NBLCK, length)
            except OSError:
                continue
            return True
        return False

else:
    import fcntl

    def _try(handle: int, shared: bool) -> bool:
        try:
            fcntl.flock(handle, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


def try_lock(path: Path, *, shared: bool) -> int | None:
    """Lock the file and return its handle, or None when others stand in the way. Closing the handle unlocks."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
    if _try(handle, shared):
        return handle
    os.close(handle)
    return None


def wait_for(path: Path, *, shared: bool, when_busy: Callable[[], None]) -> int:
    """Lock the file, waiting as long as it takes; `when_busy` is called once if there is anything to wait for."""
    handle = try_lock(path, shared=shared)
    if handle is None:
        when_busy()
    while handle is None:
        time.sleep(POLL_SECONDS)
        handle = try_lock(path, shared=shared)
    return handle


@contextmanager
def held(handle: int) -> Iterator[None]:
    """Let go of a lock at the end of a block."""
    try:
        yield
    finally:
        os.close(handle)
