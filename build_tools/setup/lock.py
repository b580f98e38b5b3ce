"""Only one set-up at a time: a second one waits. The system lets go when a process dies."""

from __future__ import annotations

import time
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Iterator

from build_tools.setup.progress import say

try:
    import fcntl
except ImportError:  # Windows
    import msvcrt

    fcntl = None


@contextmanager
def one_at_a_time(path: Path) -> Iterator[None]:
    """Hold the lock file at `path`, waiting for whoever holds it."""
    path.parent.mkdir(exist_ok=True)
    with path.open("a+b") as file:
        if not _take(file):
            say("Another set-up is at work in this folder. Waiting for it to end.")
        while not _take(file):
            time.sleep(1)
        yield


def _take(file: IO[bytes]) -> bool:
    file.seek(0)
    try:
        if fcntl:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        else:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    except OSError:
        return False
    return True
