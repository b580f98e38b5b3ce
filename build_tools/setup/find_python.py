"""Find a Python to make the environment with: 3.13, the browser runtime's own, or the next best."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Iterator, Sequence

from build_tools.setup import uv
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.paths import WINDOWS, Places, pyenv_pythons, pyenv_roots, python_names
from build_tools.setup.progress import say

WANTED = (3, 13)
ALSO_GOOD = ((3, 12), (3, 11))
PROBE_S = 20

# Debian splits venv and ensurepip off; a free-threaded build takes other wheels.
PROBE = """
import json, sys, sysconfig
try:
    import ensurepip, venv
    lacks = ""
except ImportError as error:
    lacks = error.name
if sysconfig.get_config_var("Py_GIL_DISABLED"):
    lacks = "the usual build (this one is free-threaded)"
print(json.dumps([sys.executable, list(sys.version_info[:2]), lacks]))
"""


@dataclass(frozen=True)
class Python:
    """A Python on this machine. `lacks` names what keeps it from making an environment."""

    path: str
    version: tuple[int, int]
    lacks: str = ""


def choose(places: Places) -> Python:
    """A Python that can make the environment, the wanted version first."""
    unfit: list[Python] = []
    found = find(WANTED, unfit) or _by_uv(places)
    if found:
        return found
    for version in ALSO_GOOD:
        found = find(version, unfit)
        if found:
            return found
    raise SetUpStopped(
        "No Python 3.13, 3.12 or 3.11 that can make an environment was found.",
        found=[f"{each.path} lacks {each.lacks}" for each in unfit],
        fix="install Python 3.13 with its venv module (on Debian or Ubuntu also the package "
        "python3-venv), then run the same command again.",
    )


def find(version: tuple[int, int], unfit: list[Python] | None = None) -> Python | None:
    """The first Python of this version that can make an environment; others go to `unfit`."""
    for command in candidates(version):
        python = probe(command)
        if python is None or python.version != version:
            continue
        if not python.lacks:
            return python
        if unfit is not None:
            unfit.append(python)
    return None


def candidates(version: tuple[int, int]) -> Iterator[list[str]]:
    """Commands that may start this version: running, on PATH, Windows' launcher, pyenv."""
    if sys.version_info[:2] == version:
        yield [sys.executable]
    for name in python_names(version, sys.platform):
        for folder in os.get_exec_path():
            path = shutil.which(name, path=folder)
            if path:
                yield [path]
    if sys.platform == WINDOWS and shutil.which("py"):
        yield ["py", f"-{version[0]}.{version[1]}"]
    for root in pyenv_roots(os.environ, Path.home(), sys.platform):
        versions = Path(root, "versions")
        names = [path.name for path in versions.iterdir()] if versions.is_dir() else []
        for path in pyenv_pythons(root, names, version, sys.platform):
            yield [str(path)]


def probe(command: Sequence[str]) -> Python | None:
    """Ask a Python what it is. A name on PATH may be a shim that starts nothing."""
    try:
        answer = subprocess.run(
            [*command, "-c", PROBE],
            capture_output=True,
            text=True,
            timeout=PROBE_S,
            check=True,
        ).stdout
        path, version, lacks = json.loads(answer)
    except (OSError, ValueError, subprocess.SubprocessError):
        return None
    return Python(path, (version[0], version[1]), lacks)


def _by_uv(places: Places) -> Python | None:
    say("Python 3.13 is not on this machine. Trying to get it with uv.")
    path = uv.get_python(places, WANTED)
    return probe([path]) if path else None
