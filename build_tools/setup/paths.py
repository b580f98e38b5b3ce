"""Where the files lie that set-up makes and reads. All are inside the project."""

from __future__ import annotations

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"  # the environment that everything runs in
CACHE = ROOT / ".cache"  # what can be made again, and takes time
LOCKS = ROOT / "build_tools" / "setup" / "locks"
MAKE_ENVIRONMENT = ROOT / "build_tools" / "setup" / "make_environment.py"
WEB = ROOT / "build_tools" / "web"  # package.json, its lock, node_modules


def scripts(venv: Path) -> Path:
    """Where an environment keeps its programs."""
    return venv / ("Scripts" if os.name == "nt" else "bin")


def python(venv: Path | None = None) -> str:
    """The Python of an environment, `.venv` unless another is given."""
    return str(scripts(venv or VENV) / ("python.exe" if os.name == "nt" else "python"))


def variables() -> dict[str, str]:
    """Variables for programs in the environment: its own programs come first on PATH."""
    path = os.pathsep.join([str(scripts(VENV)), *os.get_exec_path()])
    env = {**os.environ, "PATH": path, "VIRTUAL_ENV": str(VENV), "PIP_USER": "0"}
    # Who sets it wants nothing beside the sources. Without any bytecode each of the many Pythons
    # of a build would compile the libraries anew: it would take half as long again.
    if env.pop("PYTHONDONTWRITEBYTECODE", ""):
        env.setdefault("PYTHONPYCACHEPREFIX", str(CACHE / "bytecode"))
    return env
