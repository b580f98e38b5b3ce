"""A new calculator filled in as an author would: `check` passes, and so do its rows.

The numbers are by hand and from the sources named beside them.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from build_tools.bench.project_copy import make
from build_tools.setup.paths import ROOT
from build_tools.sources import new
from build_tools.sources.read_yaml import read_file
from tests.project import lend

STEM = "hose_flow"
FORMULA, WORDS, TABLE = (
    f"calcs/calculators/{STEM}.py",
    f"content/calculators/{STEM}.yaml",
    f"tests/tables/{STEM}.yaml",
)
# What a row asks of a library stands with the others.
LIBRARY = """def flow_by_scipy(given):
    from scipy import constants

    from calcs.engine.units import Quantity

    assert given == {"volume": "1 ft³", "elapsed": "3600 s"}
    return {"flow_rate": Quantity(constants.foot**3 / 3600, "m**3/s")}


def orifice_flow_ratio("""
# What an author writes, in the order of the blanks: the line as it was left, and as it is filled.
FILLED = {
    FORMULA: [
        ('Cite("source_id", "where in it")', 'Cite("si_brochure_9", "Table 8: hour = 3600 s")'),
    ],
    WORDS: [
        ("group:            #", "group: pressure_and_input  #"),
        ("summary:          #", "summary: See what passes through a hose in an hour.  #"),
        ("use_when:\n  -               #", "use_when:\n  - You have timed a hose.  #"),
        ("does_not_cover:\n  -               #", "does_not_cover:\n  - What a hose can carry.  #"),
        ("    label:\n    help:", "    label: Volume\n    help: What passed through it."),
        ("    label:\n    help:", "    label: Time\n    help: How long it took."),
        ("    label:\nbefore:", "    label: Flow\nbefore:"),
        ("before:\n  -               #", "before:\n  - Turn the gas off before you start.  #"),
        ("cautions:\n  -               #", "cautions:\n  - A flow proves no tightness.  #"),
        ("stop:\n  -               #", "stop:\n  - You smell gas.  #"),
        ("method:\n  -               #", "method:\n  - The volume over the time.  #"),
        ("  title:\n", "  title: The invented hose\n"),
        ("    volume:\n", "    volume: gas_rate.found_volume\n"),
        ("    elapsed:\n", "    elapsed: gas_rate.found_elapsed\n"),
    ],
    TABLE: [
        ("- id:\n", "- id: an-imperial-index-on-a-bill\n"),
        ("{volume: , elapsed: }", "{volume: 100 ft³, elapsed: 60 min}"),
        ("{flow_rate: }", "{flow_rate: 2.83 m³/h}"),
        ("    within:\n", "    within: 0.005 m³/h\n    because: A bill prints three digits\n"),
        ("{id: , where: }", '{id: supplier_billing_formula, where: "imperial index: × 2.83"}'),
        ("- id:\n", "- id: a-cubic-foot-by-library\n"),
        ("{volume: , elapsed: }", "{volume: 1 ft³, elapsed: 3600 s}"),
        ("    expect: {flow_rate: }\n    within:\n", ""),
        ("secondary: {id: , where: }", "library: flow_by_scipy"),
        ("- id:\n", "- id: more-than-a-hose-passes\n"),
        ("{volume: , elapsed: }", "{volume: 101 m³, elapsed: 120 s}"),
        ("{volume: }", "{volume: expected 0.001 to 100}"),
        ("    working:\n", "    working: The form takes up to 100 m³\n"),
    ],
    "tests/tables/libraries.py": [("def orifice_flow_ratio(", LIBRARY)],
}


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of this project in which the calculator was begun."""
    root = make(tmp_path_factory.mktemp("author"))
    skipped = shutil.ignore_patterns("__pycache__", "tables", "browser", "offline")
    shutil.copytree(ROOT / "tests", root / "tests", ignore=skipped, dirs_exist_ok=True)
    lend(root)
    assert new.write(["calculator", STEM], root) == [FORMULA, WORDS, TABLE]
    return root


def run(root: Path, *words: str) -> str:
    # What Python makes of a file serves the next run too: each edit here changes a file's length.
    command = [sys.executable, "-m", *words]
    done = subprocess.run(
        command, cwd=root, capture_output=True, text=True, encoding="utf-8", check=False
    )
    return done.stdout + done.stderr


def test_check_lists_every_blank_and_then_the_rows_pass(project: Path) -> None:
    told = run(project, "build_tools", "check")
    assert "rows[2].published.id\n    This is empty." in told
    assert "rows[4].refused.volume\n    This is empty." in told
    assert told.count("This is empty.") >= 30
    for name, lines in FILLED.items():
        text = (project / name).read_text(encoding="utf-8")
        for left, written in lines:
            assert left in text, (name, left)
            text = text.replace(left, written, 1)
        (project / name).write_text(text, encoding="utf-8", newline="\n")
    told = run(project, "build_tools", "check")
    assert "every example and page tried" in told, told
    picked = f"{STEM} or test_every_calculator"
    told = run(project, "pytest", "-n0", "-q", "tests/tables/test_tables.py", "-k", picked)
    assert "\n2 passed, " in told, told  # all four rows are one of them
    assert len(read_file(project / TABLE, TABLE).value["rows"]) == 4


def test_what_is_left_to_edit_is_named() -> None:
    told = new.report("calculator", STEM, [FORMULA, WORDS, TABLE])
    for name in (FORMULA, WORDS, TABLE, "data/sources.yaml", "data/limits/", "data/visit_record"):
        assert name in told, told
    assert "Changed: no file." in told
    assert f"test -k {STEM}" in told
    assert "data/instruments.yaml" in new.report("procedure", STEM, ["a.yaml"])
