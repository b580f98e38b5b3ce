"""The command `check` on a copy of the project that somebody has broken in several places at once.

Causes come first, what may come of them is left out, and nobody is shown a traceback.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from build_tools.setup.paths import ROOT
from build_tools.site import check
from tests.project import lend

PARTS = ("data", "content", "calcs", "tests/tables", "build_tools")
MADE = ("bundle.json", "practice.json")
LEFT_OUT = shutil.ignore_patterns("node_modules", "__pycache__", *MADE, "benchmark")
GAS_RATE = "calcs/calculators/gas_rate.py"
PLACES = (
    *(f"{GAS_RATE}:", "calcs/calculators/hot_water.py:", "calcs/calculators/injector.py:1:4"),
    *("calcs/calculators/purge.py:1:", "data/sources.yaml:", "content/procedures/purging.yaml:2"),
)


class Copy:
    """The project in a folder of its own, in which files can be broken and put back."""

    def __init__(self, root: Path) -> None:
        self.root = root
        for part in PARTS:
            shutil.copytree(ROOT / part, root / part, ignore=LEFT_OUT)
        shutil.copy(ROOT / "mkdocs.yml", root)
        lend(root)
        # No run writes what Python makes of a file: another edit may come within the same second.
        compiling = [sys.executable, "-m", "compileall", "-q", "build_tools", "calcs"]
        subprocess.run(compiling, cwd=root, check=True)

    def told(self, slips: dict[str, bytes | tuple[str, str]], *command: str) -> str:
        """What is said with these slips: new content, or words of a file and what replaces them."""
        before = {name: (self.root / name).read_bytes() for name in slips}
        for name, slip in slips.items():
            (self.root / name).write_bytes(broken(before[name], slip))
        try:
            return self.run(*(command or ("check",)))
        finally:
            for name, content in before.items():
                (self.root / name).write_bytes(content)

    def run(self, *command: str) -> str:
        done = subprocess.run(
            [sys.executable, "-B", "-m", "build_tools", *command],
            cwd=self.root,
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=False,
        )
        assert "Traceback" not in done.stdout + done.stderr
        return done.stdout + done.stderr


def broken(content: bytes, slip: bytes | tuple[str, str]) -> bytes:
    if isinstance(slip, bytes):
        return slip
    found, written = (each.encode() for each in slip)
    assert found in content
    return content.replace(found, written, 1)


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Copy:
    return Copy(tmp_path_factory.mktemp("project"))


def test_quantities_that_do_not_fit_are_told_by_their_line(copy: Copy) -> None:
    slip = ("flow_rate = (gas_used / elapsed)", "flow_rate = (gas_used + elapsed)")
    lines = (ROOT / GAS_RATE).read_text(encoding="utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, start=1) if slip[0] in text)
    said = copy.told({GAS_RATE: slip})
    assert f"{GAS_RATE}:{line}:1\n    The formula of 'gas_rate' fails with its worked" in said
    assert "DimensionalityError" in said
    assert said.endswith("1 problem found.\n")


def test_calculators_that_fail_and_a_file_that_cannot_be_read_hide_nothing_and_blame_no_one(
    copy: Copy,
) -> None:
    said = copy.told(
        {
            GAS_RATE: (', read_with="stopwatch"', ""),
            "calcs/calculators/hot_water.py": ("from calcs.engine.units", "from calcs.engine.unts"),
            "calcs/calculators/injector.py": "# Düse\n".encode("latin-1"),
            "calcs/calculators/purge.py": b"def purge(:\n    pass\n",
            "data/sources.yaml": ("title:", "title"),
            "content/procedures/purging.yaml": ("kind: procedure\n", "kind: procedure\nkind: x\n"),
            "content/reference/glossary.yaml": ("kind: reference", "kind: refrence"),
        }
    )
    first, _, then = said.partition("Then these, as far as they are still there.")
    for place in (
        *(f"{GAS_RATE}:", "calcs/calculators/hot_water.py:", "calcs/calculators/injector.py:1:4"),
        *(
            "calcs/calculators/purge.py:1:",
            "data/sources.yaml:",
            "content/procedures/purging.yaml:2",
        ),
    ):
        assert place in first
    assert then.count("    Fix: ") == 1
    assert "content/reference/glossary.yaml:1:7  kind\n" in then
    assert "There is no" not in said
    assert said.endswith("7 problems found.\n")


def test_an_engine_that_cannot_be_loaded_is_told_with_what_can_still_be_read(copy: Copy) -> None:
    slips = {
        "calcs/engine/units.py": ("def ", "def def "),
        "data/gases.yaml": ("label:", "label"),
    }
    for command in (("check",), ("build", "--out", str(copy.root / "site"))):
        said = copy.told(slips, *command)
        assert "calcs/engine/units.py:" in said
        assert "Python can't read this file" in said
        assert "data/gases.yaml:" in said
        assert "2 problems found." in said


def test_what_only_a_page_can_tell_is_told(copy: Copy) -> None:
    name = "content/diagrams/burner_curve.yaml"
    said = copy.told({name: ("draw: burner_curve", "draw: burner_curves")})
    assert "'burner_curves'" in said
    assert "rename it to 'burner_curve'" in said


def test_the_project_as_it_stands_is_found_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert check.main(json=True) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["problems"] == []
    assert said["files"] > 600
