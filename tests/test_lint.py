"""Lint, format and types, by the tools that set-up installs. A missing tool is a failure."""

import json
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from build_tools.setup.paths import ROOT

WEB = ROOT / "build_tools" / "web"
SET_UP = "Run the tests with: python3 build_tools/start.py test"


def run(command: Sequence[str | Path], *, cwd: Path = ROOT) -> None:
    """Run a tool in the project; when it finds something, fail with what it printed."""
    done = subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.fail(f"{done.stdout}{done.stderr}", pytrace=False)


def python_tool(name: str, *words: str) -> None:
    """Run a tool that is a Python module."""
    run([sys.executable, "-m", name, *words])


def test_python_lint():
    python_tool("ruff", "check", "--no-cache", ".")


def test_python_format():
    python_tool("ruff", "format", "--check", "--no-cache", ".")


def test_python_types_of_the_calculators():
    python_tool("mypy", "--strict", "calcs")


def node_tool(place: str, *words: str) -> None:
    """Run a tool of the front end's packages."""
    tool = WEB / "node_modules" / place
    if not tool.exists():
        pytest.fail(f"{tool.relative_to(ROOT)} is not there. {SET_UP}", pytrace=False)
    beside = Path(sys.executable).parent
    node = shutil.which("node", path=str(beside)) or shutil.which("node")
    if node is None:
        pytest.fail(f"Node.js is not there. {SET_UP}", pytrace=False)
    run([node, tool, *words], cwd=WEB)


def test_types_of_the_front_end():
    node_tool("typescript/bin/tsc", "--noEmit")


def test_lint_and_format_of_the_front_end():
    """Its words are those of `npm run check` in build_tools/web; `npm run format` mends most."""
    command = json.loads((WEB / "package.json").read_text("utf-8"))["scripts"]["check"]
    name, *words = command.split()
    node_tool(f"@biomejs/{name}/bin/{name}", *words)


def test_no_day_is_written_by_a_code_that_some_systems_lack():
    """Windows has no %-d and no %-m: a refusal would be a traceback there."""
    folders = (ROOT / "calcs", ROOT / "build_tools" / "pages", ROOT / "build_tools" / "site")
    files = [file for folder in folders for file in folder.rglob("*.py")]
    assert [file.name for file in files if "%-" in file.read_text("utf-8")] == []
