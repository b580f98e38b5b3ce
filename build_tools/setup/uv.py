"""The tool uv: fetches a Python where there is none that will do, and writes the locks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

from build_tools.setup import paths
from build_tools.setup.fetch_errors import LOCKED, PIP
from build_tools.setup.progress import ProgramFailed, run, say


def program() -> str:
    """Path of uv: on PATH, or installed from its lock into the cache.

    Raises:
        ProgramFailed: It could not be installed.
    """
    venv = paths.CACHE / "uv"
    folders = os.pathsep.join([*os.get_exec_path(), str(paths.scripts(venv))])
    if not shutil.which("uv", path=folders):
        run("Making a place for uv", [sys.executable, str(paths.MAKE_ENVIRONMENT), str(venv)])
        install = [*PIP, "install", *LOCKED, "-r", str(paths.LOCKS / "uv.txt")]
        run("Installing uv", [paths.python(venv), *install])
    return str(shutil.which("uv", path=folders))


def get_python(version: str) -> str | None:
    """Path of a Python that uv fetched or already had; nothing, said plainly, when it can't."""
    say(f"Python {version} is not on this machine. Trying to get it with uv.")
    try:
        run(f"Fetching Python {version} with uv", [program(), "python", "install", version])
    except ProgramFailed as failure:
        say(f"  {failure}: {failure.lines[-1].strip() if failure.lines else 'it gave no reason'}")
        return None
    found = subprocess.run(
        [program(), "python", "find", version], capture_output=True, text=True, check=False
    )
    return found.stdout.strip() or None
