"""The process that stands ready to build, as `serve` sees it: told to build, asked, given up.

Where the system can copy a process (`fork`), one stands for as long as `serve` runs, and each build
is made in a copy of it: it is as ready for the tenth edit as for the first. Elsewhere each builds
once and ends, and the next takes its place.
"""

import os
import select
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from struct import Struct

from build_tools.project import ROOT
from build_tools.rebuilding import CAN_COPY, GIVEN_UP, NUMBER, STATUS


class Standing:
    """A build that waits.

    Args:
        site: Folder of the site that it builds.
        root: Folder of the project.
    """

    def __init__(self, site: Path, root: Path = ROOT) -> None:
        self._site, self._root = site, root
        self._builds = False
        self._copy: int | None = None
        self._begin()

    def _begin(self) -> None:
        self._told, says = os.pipe()
        command = [sys.executable, "-m", "build_tools.rebuilding", str(self._site)]
        kept = (says,) if CAN_COPY else ()
        # In a session of its own, Ctrl-C reaches `serve` alone: this one might be in the midst of
        # its imports, and would end with a traceback.
        self._process = subprocess.Popen(
            [*command, *map(str, kept)],
            cwd=self._root,
            stdin=subprocess.PIPE,
            pass_fds=kept,
            start_new_session=CAN_COPY,
        )
        os.close(says)

    def build(self) -> None:
        """Have it build what stands in the files now. No other build may be at work."""
        with suppress(BrokenPipeError):  # it has died: that is heard as the build's end
            pipe = self._process.stdin
            assert pipe  # noqa: S101  it was asked for
            pipe.write(b"\n")
            pipe.flush()
        self._builds = True

    def settled(self) -> int | None:
        """The status of the build that has just ended; None while there is none."""
        if not self._builds:
            return None
        if not CAN_COPY:
            status = self._process.poll()
            return None if status is None else self._ended(status)
        while select.select([self._told], [], [], 0)[0]:
            if self._copy is not None or self._number() is None:
                return self._hear_status()
        return None

    def give_up(self) -> None:
        """Stop a build that a newer change has made useless, and let it tidy up."""
        if not self._builds or self.settled() is not None:
            return
        if not CAN_COPY:
            self._process.terminate()
            self._ended(self._process.wait())
            return
        copy = self._number()
        if copy is not None:
            with suppress(ProcessLookupError):  # it has just ended
                os.kill(copy, signal.SIGINT)
        self._hear_status()

    def end(self) -> None:
        """Have it end, whatever it does."""
        self.give_up()
        if CAN_COPY:
            self._process.terminate()
        self._close()

    def _close(self) -> None:
        if self._process.stdin:
            with suppress(BrokenPipeError):
                self._process.stdin.close()
        self._process.wait()
        os.close(self._told)

    def _number(self) -> int | None:
        """Wait for the number of the copy that builds. None comes from a process that has died."""
        if self._copy is None:
            self._copy = self._heard(NUMBER)
        return self._copy

    def _hear_status(self) -> int:
        status = self._heard(STATUS)
        self._builds, self._copy = False, None
        return self._ended(GIVEN_UP) if status is None else status

    def _heard(self, what: Struct) -> int | None:
        said = os.read(self._told, what.size)  # so few bytes come in one piece
        return int(what.unpack(said)[0]) if len(said) == what.size else None

    def _ended(self, status: int) -> int:
        """The process has ended: another takes its place."""
        self._builds, self._copy = False, None
        self._close()
        self._begin()
        return status
