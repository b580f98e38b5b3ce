"""Run a program and show that it is at work: what it does, and for how long."""

from __future__ import annotations

import subprocess
import tempfile
import threading
import time
from typing import Mapping, Sequence

EVERY_S = 10
_at_work: set[subprocess.Popen[bytes]] = set()
_is_ended = threading.Event()


class ProgramFailed(Exception):
    """A program ended with an error. `lines` is all that it printed."""

    def __init__(self, label: str, lines: Sequence[str]) -> None:
        """Keep what the program printed."""
        self.lines = list(lines)
        super().__init__(f"{label} did not finish")


def say(text: str) -> None:
    """Print one line at once, also into a log."""
    print(text, flush=True)


def run(
    label: str, command: Sequence[str], env: Mapping[str, str] | None = None, cwd: str | None = None
) -> None:
    """Run `command` to its end, showing `label` and how long it has taken.

    Raises:
        ProgramFailed: It ended with an error.
    """
    began = time.monotonic()
    say(f"  {label} ...")
    with tempfile.TemporaryFile() as printed:
        both = {"stdout": printed, "stderr": subprocess.STDOUT}
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, env=env, cwd=cwd, **both)
        _at_work.add(process)
        if _is_ended.is_set():  # before this one began
            process.kill()
        while process.poll() is None:
            try:
                process.wait(EVERY_S)
            except subprocess.TimeoutExpired:
                say(f"  {label} ... {time.monotonic() - began:.0f} s")
        _at_work.remove(process)
        printed.seek(0)
        lines = printed.read().decode("utf-8", "replace").splitlines()
    ended = "not finished" if process.returncode else "done"
    say(f"  {label}: {ended}, {time.monotonic() - began:.1f} s")
    if process.returncode:
        raise ProgramFailed(label, lines)


def end_all() -> None:
    """End what runs, in whichever thread: Ctrl-C leaves no installer behind."""
    _is_ended.set()
    for process in [*_at_work]:
        process.kill()
