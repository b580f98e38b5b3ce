"""Only one set-up at a time: a second one waits. The system lets go when a process dies."""

from __future__ import annotations

import sys
import time
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Iterator

from build_tools.setup.progress import say

WAIT_S = 0.5


@contextmanager
def one_at_a_time(path: Path) -> Iterator[None]:
    """Hold the lock file at `path`, waiting for whoever holds it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a+b") as file:
        if not _take(file):
            say("Another set-up is at work in this folder. Waiting for it to end.")
            while not _take(file):
                time.sleep(WAIT_S)
        yield


if sys.platform == "win32":
    import msvcrt

    def _take(file: IO[bytes]) -> bool:
        file.seek(0)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _take(file: IO[bytes]) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
