"""Find a Python to make the environment with: 3.13, the browser runtime's own, or the next best."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Iterator, Sequence

from build_tools.setup import uv
from build_tools.setup.errors import SetUpStopped

WANTED = "3.13"
ALSO_GOOD = ("3.12", "3.11")
PYENV = ("$PYENV_ROOT", "$PYENV", "~/.pyenv", "~/.pyenv/pyenv-win")
# Debian splits venv and ensurepip off; a free-threaded build takes other wheels.
PROBE = """
import ensurepip, sys, sysconfig, venv
if not sysconfig.get_config_var("Py_GIL_DISABLED"):
    print("%d.%d" % sys.version_info[:2], sys.executable, sep="\\n")
"""


def choose() -> tuple[str, str]:
    """Version and path of a Python that can make the environment, the wanted version first.

    Raises:
        SetUpStopped: There is none, and none can be fetched.
    """
    for version in (WANTED, *ALSO_GOOD):
        path = find(version) or (uv.get_python(version) if version == WANTED else None)
        if path:
            return version, path
    raise SetUpStopped(
        "No Python 3.13, 3.12 or 3.11 that can make an environment was found.",
        fix="install Python 3.13 with its venv module (on Debian or Ubuntu also the package "
        "python3-venv), then run the same command again.",
    )


def find(version: str) -> str | None:
    """The first Python of this version that can make an environment."""
    return next((path for each in candidates(version) if (path := probe(each, version))), None)


def candidates(version: str) -> Iterator[list[str]]:
    """Commands that may start this version: running, on PATH, Windows' launcher, pyenv."""
    yield [sys.executable]
    for name in (f"python{version}", "python3", "python"):
        found = (shutil.which(name, path=folder) for folder in os.get_exec_path())
        yield from ([path] for path in found if path)
    yield ["py", f"-{version}"]
    for root in PYENV:
        versions = Path(os.path.expandvars(root)).expanduser() / "versions"
        for inside in ("bin/python", "python.exe"):
            yield from ([str(path)] for path in versions.glob(f"{version}.*/{inside}"))


def probe(command: Sequence[str], version: str) -> str | None:
    """Path of the Python that a command starts, if it is one of this version that will do."""
    try:
        answer = subprocess.run(
            [*command, "-c", PROBE], capture_output=True, text=True, timeout=20, check=True
        ).stdout
    except (OSError, subprocess.SubprocessError):
        return None  # a name on PATH may be a shim that starts nothing
    found, _, path = answer.strip().partition("\n")
    return path if found == version else None
