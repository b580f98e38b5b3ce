"""First live answer with every calculator, against the same with the first four alone.

The four are built as the handbook was when it had no others: a copy of the project from which every
other calculator is taken out, with the modules that none of the four imports and the figures,
tables and words that none of them uses. The copy's own build makes its runtime. Both then answer
the same request from the snapshot, by turns in one run.

Usage: python -m build_tools.bench.four_calculators ASSETS, in such a copy, makes its runtime.
"""

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from fnmatch import fnmatch
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import Playwright

from build_tools.bench import project_copy
from build_tools.bench.browser import Browser, chromium
from build_tools.bench.first_answer import PAGE, by_turns, once
from build_tools.bench.measurement import Figure, ratio_by_turns, spread
from build_tools.setup.paths import ROOT

FOUR = ("burner_pressure", "gas_rate", "reading_verdict", "working_pressure")
ALWAYS_USED = "decision.*"
EMPTY_PAGE = "<!doctype html><html lang=en><title>Empty</title><body>"


def measure(browser: Browser, playwright: Playwright, repeats: int) -> list[Figure]:
    """How many times as long the first answer takes with the full set."""
    with TemporaryDirectory() as scratch, _four(Path(scratch), playwright) as four:
        browsers = {"full set": browser, "four": four}
        ways = {name: partial(once, each, "snapshot") for name, each in browsers.items()}
        times = by_turns(ways, repeats)
    return [
        Figure(
            kind="full set",
            ratio=ratio_by_turns(times["full set"], times["four"]),
            detail=tuple(f"{name:<10}{spread(values)}" for name, values in times.items()),
            samples=times,
        )
    ]


CALCULATOR = re.compile(r"^ +calculator: (\w+)$", re.MULTILINE)


@contextmanager
def _four(home: Path, playwright: Playwright) -> Iterator[Browser]:
    site = home / "site"
    build(home / "project", site / "assets")
    (site / PAGE).write_text(EMPTY_PAGE, encoding="utf-8")
    with chromium(site, playwright) as browser:
        yield browser


def build(project: Path, assets: Path) -> None:
    """Make the runtime and the scripts of a handbook that has only the four calculators.

    Raises:
        RuntimeError: The copy could not be built; its words are in it.
    """
    copy(project)
    ended = subprocess.run(
        [sys.executable, "-m", "build_tools.bench.four_calculators", str(assets.absolute())],
        cwd=project,
        env={name: value for name, value in os.environ.items() if name != "PYTHONPATH"},
        capture_output=True,
        text=True,
        check=False,
    )
    if ended.returncode:
        raise RuntimeError(f"The four calculators could not be built.\n{ended.stderr}")


def copy(project: Path) -> None:
    """Copy what a runtime is made of, without the other calculators."""
    project_copy.make(project)
    for folder, ending in (("calcs/calculators", "py"), ("content/calculators", "yaml")):
        for file in (project / folder).glob(f"*.{ending}"):
            if file.stem not in {*FOUR, "__init__"}:
                file.unlink()
    # What a step says is worked out by its calculator.
    for file in (project / "content/procedures").glob("*.yaml"):
        if not set(CALCULATOR.findall(file.read_text("utf-8"))) <= set(FOUR):
            file.unlink()


def main() -> None:
    """Make the runtime of the copy that this module lies in."""
    from build_tools.runtime import bundle, make_runtime, snapshot_cases  # noqa: PLC0415  needed in the copy alone

    if {file.stem for file in ROOT.glob("calcs/calculators/*.py")} != {*FOUR, "__init__"}:
        sys.exit(
            "This is no copy with four calculators.\nFix: run python3 build_tools/start.py bench"
        )
    used = _bundle_used(bundle.make(date(2026, 1, 1), ROOT))
    snapshot_cases.cases(used, date(2026, 1, 1))  # whatever the four import is imported now
    for file in ROOT.glob("calcs/**/*.py"):
        if str(file) not in _imported() and file.name != "__main__.py":
            file.unlink()
    make_runtime.build(Path(sys.argv[1]), used)


def _imported() -> set[str]:
    return {
        str(module.__file__)
        for name, module in list(sys.modules.items())
        if name.partition(".")[0] == "calcs"
    }


def _bundle_used(bundle: Mapping[str, Any]) -> dict[str, Any]:
    """What the four use of a bundle: their figures, tables and words, and the sources of those."""
    from calcs.engine.describe import describe  # noqa: PLC0415
    from calcs.engine.reference import Reference  # noqa: PLC0415  the copy's own
    from calcs.engine.registry import calculators  # noqa: PLC0415

    reference = Reference(bundle)
    day = date.fromisoformat(bundle["edition"].split()[0])
    described = [describe(each, reference, day) for each in calculators().values()]
    patterns = {ALWAYS_USED, *(name for each in described for name in each["uses"])}
    figures, tables = (matching(bundle[kind], patterns) for kind in ("figures", "tables"))
    kept = {**bundle, "figures": figures, "tables": tables}
    kept["words"] = {name: text for name, text in bundle["words"].items() if name in FOUR}
    told = json.dumps([figures, tables, bundle["instruments"], described])
    kept["sources"] = {
        name: text for name, text in bundle["sources"].items() if json.dumps(name) in told
    }
    return kept


def matching(named: Mapping[str, Any], patterns: set[str]) -> dict[str, Any]:
    """What has a name that one of the patterns fits."""
    return {
        name: value
        for name, value in named.items()
        if any(fnmatch(name, pattern) for pattern in patterns)
    }


if __name__ == "__main__":
    main()
