"""How much work a build is, and how soon `serve` shows an edit.

Both against MkDocs with its stock theme over as many plain pages.
"""

import os
import signal
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from build_tools.bench import project_copy
from build_tools.bench.measurement import Figure, ratio_by_turns
from build_tools.bench.project_copy import Edit
from build_tools.bench.stock import Stock, timed

REST_S = 2.0  # an author types for longer, and the next build comes to stand ready
STOPS_WITHIN_S = 10
# Lines of `serve`. The pages can be read from the first of these on.
SHOWN = ("The pages are ready", "The site is up to date")
WHOLE = "The site is up to date"


EDITS = (
    Edit("a procedure's words", "content/procedures/gas_rate.yaml", "The meter is", "A meter is"),
    Edit("a calculator's words", "content/calculators/gas_rate.yaml", "title: Gas", "title: A gas"),
    Edit("a figure", "data/limits/billing.yaml", "value: 1.02264", "value: 1.02265"),
    Edit("a formula", "calcs/calculators/gas_rate.py", "Heat input of an", "The heat input of an"),
    Edit("the look", "build_tools/theme/assets/css/calculator.css", "{", "{\n  order: 0;"),
)


def measure(stock: Stock) -> Iterator[Figure]:
    """A full build, then every kind of edit while `serve` runs, in a copy of the project."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        root = project_copy.make(Path(folder) / "project")
        for kind in ("build", "again"):
            yield _full_build(kind, root, stock)
        with _serving(root) as lines:
            for each in EDITS:
                yield _after(root, each, lines, stock)


def _full_build(kind: str, root: Path, stock: Stock) -> Figure:
    command = [sys.executable, "-m", "build_tools", "build", "--out", str(root / "site")]
    took, worked = timed(command, root)
    beside = stock.build()[1]
    return Figure(
        kind=kind,
        ratio=worked / beside,
        told=f"{took:.1f} s by the clock",
        detail=(f"a processor worked for {worked:.1f} s; for the plain pages {beside:.1f} s",),
        samples={"clock": [took], "work": [worked], "plain work": [beside]},
    )


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
            with suppress(subprocess.TimeoutExpired):
                server.wait(STOPS_WITHIN_S)
            server.kill()  # a shell that starts programs in the background keeps SIGINT from them


def _after(root: Path, edit: Edit, lines: Iterator[str], stock: Stock) -> Figure:
    """The edit and its taking back, each after a build of the plain pages."""
    plain, shown, whole = [], [], []
    for words in ((edit.found, edit.written), (edit.written, edit.found)):
        plain.append(stock.build()[0])
        time.sleep(REST_S)
        began = time.monotonic()
        project_copy.edit(root / edit.file, *words)
        seen = _wait(lines, *SHOWN)
        shown.append(time.monotonic() - began)
        if not seen.startswith(WHOLE):
            _wait(lines, WHOLE)
        whole.append(time.monotonic() - began)
    return Figure(
        kind="edit",
        ratio=ratio_by_turns(shown, plain),
        told=f"{statistics.median(shown):.1f} s, the calculators too in {max(whole):.1f} s",
        of=edit.kind,
        detail=(f"a build of the plain pages: {statistics.median(plain):.1f} s",),
        samples={"shown": shown, "whole": whole, "plain": plain},
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
        if line.startswith("Put that right"):
            break
    message = f"An edit was not built:\n{said}"
    raise RuntimeError(message)
