"""Builds for `serve`: one process at a time, which the next edit may stop."""

import os
import shutil
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryFile

from build_tools.project import ROOT


class Builder:
    """A process that waits to build, or builds: see `one_build`.

    Args:
        site: Folder of the site that it builds.
        root: Folder of the project.
    """

    def __init__(self, site: Path, root: Path = ROOT) -> None:
        self._site, self._root = site, root
        self._await()

    def _await(self) -> None:
        """Start the process that the next build is made in."""
        self._is_building = False
        self._said = TemporaryFile()  # noqa: SIM115  open for as long as the process lives
        self._process = subprocess.Popen(
            [sys.executable, "-m", "build_tools.serve.one_build", str(self._site)],
            cwd=self._root,
            stdin=subprocess.PIPE,
            stderr=self._said,
            start_new_session=True,  # Ctrl-C reaches `serve` alone, and a stop all that builds
        )

    def build(self) -> None:
        """Build what the files say now. A build of what they said before is stopped."""
        if self._is_building:
            self.stop()
            self._await()
        self._is_building = True
        word = self._process.stdin
        assert word  # noqa: S101  it was asked for
        with suppress(BrokenPipeError):  # it has died: `problems` says so
            word.write(b"\n")
            word.close()

    def problems(self) -> str | None:
        """What was wrong with the build that has just ended: empty where all is well.

        None while none has ended.
        """
        status = self._process.poll()
        if not self._is_building or status is None:
            return None
        self._said.seek(0)
        said = self._said.read().decode("utf-8", "replace").strip()
        self._await()
        return said or f"The build ended with status {status}." if status else ""

    def stop(self) -> None:
        """End the process and what it has started, and clear away what it leaves."""
        if self._process.poll() is None:  # else its number may be another's by now
            if hasattr(os, "killpg"):
                os.killpg(self._process.pid, signal.SIGKILL)
            else:
                self._process.kill()
            self._process.wait()
        for unfinished in self._site.parent.glob(f".{self._site.name}-*"):
            shutil.rmtree(unfinished, ignore_errors=True)
