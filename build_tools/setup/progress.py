"""Run a program and show that it is at work: what it does, for how long, how far it is."""

from __future__ import annotations

import shutil
import subprocess
import sys
import threading
import time
from typing import Callable, Mapping, Sequence

REFRESH_S = 0.2  # how often the line on a terminal is drawn again
REMIND_S = 10.0  # how often a log, which can't redraw a line, gets a new one

Detail = Callable[[str], "str | None"]


class ProgramFailed(Exception):
    """A program ended with an error. `lines` is all that it printed."""

    def __init__(self, label: str, lines: Sequence[str]) -> None:
        """Keep what was being done and what the program said."""
        self.lines = list(lines)
        super().__init__(f"{label} did not finish")


def say(text: str) -> None:
    """Print one line at once, also into a log."""
    print(text, flush=True)


def run(
    label: str,
    command: Sequence[str],
    *,
    detail: Detail = lambda _line: None,
    env: Mapping[str, str] | None = None,
    cwd: str | None = None,
    beside: bool = False,
) -> list[str]:
    """Run `command` to its end, showing `label`; give the lines it printed.

    What runs `beside` something else shows its start and end alone: the other draws in between.
    """
    process = subprocess.Popen(
        list(command),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        env=None if env is None else dict(env),
        cwd=cwd,
    )
    lines: list[str] = []
    progress = _Progress(label, detail, beside=beside)
    reader = threading.Thread(target=_read, args=(process, lines, progress), daemon=True)
    reader.start()
    try:
        while reader.is_alive():
            progress.draw()
            reader.join(REFRESH_S)
        status = process.wait()
    except BaseException:  # Ctrl-C too: leave no installer running behind
        process.kill()
        process.wait()
        raise
    progress.end(done=status == 0)
    if status != 0:
        raise ProgramFailed(label, lines)
    return lines


def _read(process: subprocess.Popen[str], lines: list[str], progress: _Progress) -> None:
    if process.stdout is None:
        return
    with process.stdout as printed:
        for line in printed:
            lines.append(line.rstrip())
            progress.heard(line.strip())


class _Progress:
    """One line on a terminal, drawn again and again; a few lines in a log."""

    def __init__(self, label: str, detail: Detail, *, beside: bool) -> None:
        self._label = label
        self._beside = beside
        self._detail = detail
        self._latest = ""
        self._began = time.monotonic()
        self._reminded = self._began
        self._redraws = sys.stdout.isatty()
        if beside:
            say(f"  {label}, beside the rest ...")
        elif not self._redraws:
            say(f"  {label} ...")

    def heard(self, line: str) -> None:
        self._latest = self._detail(line) or self._latest

    def draw(self) -> None:
        if self._beside:
            return
        now = time.monotonic()
        text = f"  {self._label} ... {now - self._began:.0f} s  {self._latest}".rstrip()
        if self._redraws:
            width = shutil.get_terminal_size().columns - 1
            sys.stdout.write("\r" + text[:width].ljust(width))
            sys.stdout.flush()
        elif now - self._reminded >= REMIND_S:
            self._reminded = now
            say(text)

    def end(self, *, done: bool) -> None:
        if self._redraws:
            sys.stdout.write("\r" + " " * (shutil.get_terminal_size().columns - 1) + "\r")
        took = time.monotonic() - self._began
        say(f"  {self._label}: {'done' if done else 'not finished'}, {took:.1f} s")
