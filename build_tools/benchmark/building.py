"""How long a full build takes, and how soon `serve` shows an edit."""

import os
import signal
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from build_tools.benchmark import project_copy
from build_tools.benchmark.figures import Figure

ASKED_BUILD_S = 20.0
ASKED_EDIT_S = 2.0
ROUNDS = 2  # an edit and its taking back are two rebuilds
REST_S = 2.0  # an author types for longer, and the next build comes to stand ready
# Lines of `serve`. The pages can be read from the first of these on.
SHOWN = ("The pages are ready", "The site is up to date")
WHOLE = "The site is up to date"


@dataclass(frozen=True)
class Edit:
    """One kind of edit: a file, words that stand in it, and what is written there."""

    kind: str
    file: str
    found: str
    written: str


EDITS = (
    Edit("a procedure's words", "content/procedures/gas_rate.yaml", "The meter is", "A meter is"),
    Edit("a calculator's words", "content/calculators/gas_rate.yaml", "title: Gas", "title: A gas"),
    Edit("a figure", "data/limits/billing.yaml", "value: 1.02264", "value: 1.02265"),
    Edit("a formula", "calcs/calculators/gas_rate.py", "Heat input of an", "The heat input of an"),
    Edit("the look", "build_tools/theme/assets/css/calculator.css", "{", "{\n  order: 0;"),
)


def measure() -> Iterator[Figure]:
    """A full build, then every kind of edit while `serve` runs, in a copy of the project."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        root = project_copy.make(Path(folder) / "project")
        yield _full_build(root)
        with _serving(root) as lines:
            for each in EDITS:
                yield _after(root, each, lines)


def _full_build(root: Path) -> Figure:
    cold, worked = _build(root)
    again = [_build(root)[0] for _ in range(ROUNDS)]
    detail = (
        f"set up, and nothing kept from an earlier build; a processor worked for {worked:.1f} s",
        f"a build after that {min(again):.1f} s",
    )
    samples = {"first": [cold], "after that": again}
    return Figure("Full build", cold, "s", ASKED_BUILD_S, detail=detail, samples=samples)


def _build(root: Path) -> tuple[float, float]:
    """Seconds by the clock, and of work: on a busy machine the clock says little."""
    command = [sys.executable, "-m", "build_tools", "build", "--out", str(root / "site")]
    began, before = time.monotonic(), os.times()
    subprocess.run(command, cwd=root, check=True, stdout=subprocess.DEVNULL)
    after = os.times()
    worked = after.children_user + after.children_system
    return time.monotonic() - began, worked - before.children_user - before.children_system


@contextmanager
def _serving(root: Path) -> Iterator[Iterator[str]]:
    command = [sys.executable, "-m", "build_tools", "serve"]
    with subprocess.Popen(command, cwd=root, stdout=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout  # noqa: S101  it was asked for as a pipe
            lines = iter(server.stdout)
            _wait(lines, "It is built again when")
            yield lines
        finally:
            server.send_signal(signal.SIGINT) if os.name == "posix" else server.terminate()
            server.communicate()


def _after(root: Path, edit: Edit, lines: Iterator[str]) -> Figure:
    shown: list[float] = []
    whole: list[float] = []
    for turn in range(2 * ROUNDS):
        words = (edit.found, edit.written) if turn % 2 == 0 else (edit.written, edit.found)
        time.sleep(REST_S)
        began = time.monotonic()
        project_copy.edit(root / edit.file, *words)
        seen = _wait(lines, *SHOWN)
        shown.append(time.monotonic() - began)
        if not seen.startswith(WHOLE):
            _wait(lines, WHOLE)
        whole.append(time.monotonic() - began)
    spread = f"{min(shown):.1f} to {max(shown):.1f} s, n = {len(shown)}"
    return Figure(
        name=f"Edit of {edit.kind} shown",
        value=statistics.median(shown),
        unit="s",
        asked=ASKED_EDIT_S,
        detail=(f"{spread}; the calculators too in at most {max(whole):.1f} s",),
        samples={"shown": shown, "whole": whole},
    )


def _wait(lines: Iterator[str], *beginnings: str) -> str:
    """Read what `serve` says until a line begins so.

    Raises:
        RuntimeError: It refused the edit, or ended.
    """
    said = ""
    for line in lines:
        if line.startswith(beginnings):
            return line
        said += line
        if line.startswith("The site is as it was"):
            break
    message = f"An edit was not built:\n{said}"
    raise RuntimeError(message)
