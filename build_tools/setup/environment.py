"""Make `.venv` and install what the locks name."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from build_tools.setup import find_python, paths, stamps
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.fetch_errors import LOCKED, PIP, fetch
from build_tools.setup.progress import ProgramFailed, run, say

STAMP = paths.VENV / "set-up.json"
PARTS = {"site": "to build and serve", "test": "to test"}


def is_ready(part: str) -> bool:
    """Whether a part, `site` or `test`, is installed as its lock says."""
    stamp = stamps.read(STAMP)
    return part in stamp and not _is_stale(stamp)


def prepare(part: str) -> None:
    """Install a part, in a new environment where the old one is out of date."""
    stamp = stamps.read(STAMP)
    if _is_stale(stamp):
        stamp = {"root": str(paths.ROOT), "python": _make()}
    STAMP.unlink(missing_ok=True)
    # Python compiles what it imports; pip would compile all, which takes two thirds of its time.
    words = [*PIP, "install", "--no-compile", *LOCKED, "-r", str(_lock(part))]
    fetch("Python packages", f"Installing Python packages {PARTS[part]}", words)
    stamps.write(STAMP, {**stamp, part: stamps.fingerprint(_lock(part))})


def say_what_is_older() -> None:
    """Say what it costs that an environment has not the Python of the browser runtime."""
    version, wanted = stamps.read(STAMP)["python"], find_python.WANTED
    if version != wanted:
        say(f"Running on Python {version}, since no {wanted} was found. All works, but the")
        say(f"runtime's wheels ship uncompiled and start more slowly. Install {wanted} for that.")


def _lock(part: str) -> Path:
    return paths.LOCKS / f"{part}.txt"


def _is_stale(stamp: dict[str, Any]) -> bool:
    """Whether it must be made anew: moved, its Python gone, a lock changed, a better Python."""
    if stamp.get("root") != str(paths.ROOT) or not Path(paths.python()).exists():
        return True
    if any(stamp[part] != stamps.fingerprint(_lock(part)) for part in PARTS if part in stamp):
        return True
    wanted = find_python.WANTED
    return stamp["python"] != wanted and find_python.find(wanted) is not None


def _make() -> str:
    """A new, empty environment; an old or unfinished one goes first. Gives its version."""
    try:
        if paths.VENV.exists():
            say("The environment .venv is unfinished or out of date. Making it anew.")
            shutil.rmtree(paths.VENV)  # never through a link, as venv's own --clear would
        version, python = find_python.choose()
        say(f"Using Python {version}: {python}")
        run("Making the environment .venv", [python, str(paths.MAKE_ENVIRONMENT), str(paths.VENV)])
    except (OSError, ProgramFailed) as failure:
        raise SetUpStopped(
            f"The environment {paths.VENV} could not be made.",
            found=failure.lines[-4:] if isinstance(failure, ProgramFailed) else [str(failure)],
            fix="end what runs from it, see that disk and folder can be written to, and run again.",
        ) from failure
    return version
