"""How soon `check` tells what is wrong in a host's overlay after an edit of it.

Against MkDocs with its stock theme over as many plain pages, built by turns with it.
"""

import statistics
import sys
from collections.abc import Iterator
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory

from build_tools.bench import project_copy
from build_tools.bench.measurement import Figure, ratio_by_turns
from build_tools.bench.project_copy import Edit
from build_tools.bench.stock import Stock, timed
from build_tools.setup.paths import ROOT

OVERLAY = "tests/overlay/northmoor"  # an invented awarding body


EDITS = (
    Edit("words", "words/procedures/burner_pressure.yaml", "Ask before", "Ask the others before"),
    Edit("a limit", "limits/bays.yaml", "value: 0.2 mbar", "value: 0.25 mbar"),
)


def measure(stock: Stock) -> Iterator[Figure]:
    """Each kind of edit and its taking back, in a copy of the overlay."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        overlay = Path(copytree(ROOT / OVERLAY, Path(folder) / "overlay"))
        command = [sys.executable, "-m", "build_tools", "check", "--overlay", str(overlay)]
        timed(command, ROOT)  # a host has checked before
        for each in EDITS:
            yield _after(overlay, each, command, stock)


def _after(overlay: Path, edit: Edit, command: list[str], stock: Stock) -> Figure:
    checked, plain = [], []
    for words in ((edit.found, edit.written), (edit.written, edit.found)):
        plain.append(stock.build())
        project_copy.edit(overlay / edit.file, *words)
        checked.append(timed(command, ROOT))
    took, work, beside = (
        [one[at] for one in of] for of, at in ((checked, 0), (checked, 1), (plain, 1))
    )
    return Figure(
        kind="checked",
        ratio=ratio_by_turns(work, beside),
        told=f"{statistics.median(took):.1f} s by the clock",
        of=edit.kind,
        detail=(
            f"a processor worked for {statistics.median(work):.1f} s",
            f"for the plain pages {statistics.median(beside):.1f} s",
        ),
        samples={"clock": took, "work": work, "plain work": beside},
    )
