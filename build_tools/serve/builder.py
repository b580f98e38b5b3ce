"""What `serve` has made after an edit: two processes at a time, which the next edit may stop."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryFile

from build_tools.setup.paths import ROOT


class Process:
    """One that waits to do its work, or does it: see `work`.

    Args:
        words: The name of its work and what that takes.
        root: Folder of the project.
    """

    def __init__(self, words: list[str], root: Path) -> None:
        self._words, self._root = words, root
        self._await()
        self.problems: str | None = None  # of the work that was begun last; None until it ends

    def _await(self) -> None:
        """Start the process that the next work is done in."""
        self._is_working = False
        self._said = TemporaryFile()  # noqa: SIM115  open for as long as the process lives
        self._process = subprocess.Popen(
            [sys.executable, "-m", "build_tools.serve.work", *self._words],
            cwd=self._root,
            stdin=subprocess.PIPE,
            stderr=self._said,
            start_new_session=True,  # Ctrl-C reaches `serve` alone, and a stop all that works
        )

    def renew(self) -> None:
        """Stop what it works on, so that it can begin again. What has ended makes way too."""
        if self._is_working:
            self.stop()
            self._await()

    def begin(self) -> None:
        """Do the work on what the files say now."""
        self._is_working, self.problems = True, None
        word = self._process.stdin
        assert word  # noqa: S101  it was asked for
        with suppress(BrokenPipeError):  # it has died: `has_ended` says why
            word.write(b"\n")
            word.close()

    def has_ended(self) -> bool:
        """Whether the work has ended since it was asked last. `problems` says then how."""
        if not self._is_working or self.problems is not None:
            return False
        status = self._process.poll()
        if status is None:
            return False
        self._said.seek(0)
        said = self._said.read().decode("utf-8", "replace").strip()
        self.problems = (said or f"The build ended with status {status}.") if status else ""
        return True

    def stop(self) -> None:
        """End the process and what it has started."""
        if self._process.poll() is None:  # else its number may be another's by now
            if hasattr(os, "killpg"):
                os.killpg(self._process.pid, signal.SIGKILL)
            else:
                self._process.kill()
            self._process.wait()


class Builder:
    """Makes the pages and, beside that, checks the files: what is wrong is told with the pages.

    Args:
        site: Folder of the site that it builds.
        root: Folder of the project.
        layers: Folders of overlays.
    """

    def __init__(self, site: Path, root: Path = ROOT, layers: Sequence[Path] = ()) -> None:
        self._site = site
        over = [str(each) for each in layers]
        self._check = Process(["check", *over], root)
        self._pages = Process(["build", str(site), *over], root)
        self._processes = (self._check, self._pages)

    def build(self) -> None:
        """Build what the files say now. A build of what they said before is stopped."""
        for each in self._processes:
            each.renew()
        self._clear_away()
        for each in self._processes:
            each.begin()

    def problems(self) -> str | None:
        """What is wrong with the build that has just ended: empty where all is well.

        None where none has. What the check finds may be why pages can't be made, so it goes first.
        """
        ended = [each for each in self._processes if each.has_ended()]
        if not ended or any(each.problems is None for each in self._processes):
            return None
        for each in self._processes:
            each.renew()  # only now: what loads its modules would keep the others from their end
        return self._check.problems or self._pages.problems

    def stop(self) -> None:
        """End all that works, and clear away what it leaves."""
        for each in self._processes:
            each.stop()
        self._clear_away()

    def _clear_away(self) -> None:
        for unfinished in self._site.parent.glob(f".{self._site.name}-*"):
            shutil.rmtree(unfinished, ignore_errors=True)
