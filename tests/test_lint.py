"""Lint, format and types, by the tools that set-up installs. A missing tool is a failure."""

import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
WEB = ROOT / "build_tools" / "web"
SET_UP = "Run the tests with: python3 build_tools/start.py test"


def run(command: Sequence[str | Path]) -> None:
    """Run a tool in the project; when it finds something, fail with what it printed."""
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
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


def test_types_of_the_front_end():
    compiler = WEB / "node_modules" / "typescript" / "bin" / "tsc"
    if not compiler.exists():
        pytest.fail(f"{compiler.relative_to(ROOT)} is not there. {SET_UP}", pytrace=False)
    beside = Path(sys.executable).parent
    node = shutil.which("node", path=str(beside)) or shutil.which("node")
    if node is None:
        pytest.fail(f"Node.js is not there. {SET_UP}", pytrace=False)
    run([node, compiler, "--noEmit", "-p", WEB])
