"""Make `.venv` and install what the locks name."""

from __future__ import annotations

import os
import re
import shutil
import sys
from pathlib import Path
from typing import Any, Sequence

from build_tools.setup import fetch_errors, find_python, stamps
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.paths import Places, scripts_folder, venv_python
from build_tools.setup.progress import ProgramFailed, run, say

# The lock names every package, so pip need not work out what else is wanted.
PIP = ["-m", "pip", "--disable-pip-version-check", "--no-input"]
LOCKED = ["--require-hashes", "--no-deps"]


def python_of(places: Places) -> str:
    """The Python of the environment."""
    return str(venv_python(places.venv, sys.platform))


def variables(places: Places) -> dict[str, str]:
    """Variables for programs in the environment: its own programs come first on PATH."""
    path = os.pathsep.join([str(scripts_folder(places.venv, sys.platform)), *os.get_exec_path()])
    own = {"PATH": path, "VIRTUAL_ENV": str(places.venv), "PIP_USER": "0"}
    return {**_keeping_bytecode(places), **own}


def _keeping_bytecode(places: Places) -> dict[str, str]:
    """What a person wants who sets PYTHONDONTWRITEBYTECODE: nothing beside the sources.

    Without any bytecode each of the many Pythons of a build or a test would compile the libraries
    anew, which takes longer than what it is started for. So it is kept in the cache.
    """
    env = dict(os.environ)
    if env.pop("PYTHONDONTWRITEBYTECODE", ""):
        env.setdefault("PYTHONPYCACHEPREFIX", str(places.cache / "bytecode"))
    return env


def prepare(places: Places, parts: Sequence[str]) -> None:
    """Bring the environment to what the locks say, doing only what is not done."""
    mark = _mark(places)
    said = stamps.read(mark)
    if not said or _is_stale(places, said):
        said = {"root": str(places.root), "python": _make(places), "parts": {}}
    missing = [part for part in parts if part not in said["parts"]]
    if missing:
        stamps.remove(mark)
        for part in missing:
            _install(places, part)
            said["parts"][part] = _print(places, part)
        stamps.write(mark, said)


def is_ready(places: Places, parts: Sequence[str]) -> bool:
    """Whether nothing has to be done."""
    said = stamps.read(_mark(places))
    return bool(said) and not _is_stale(places, said) and {*parts} <= {*said["parts"]}


def notice(places: Places) -> str | None:
    """What to say of an environment that has not the Python of the browser runtime."""
    version = _version(stamps.read(_mark(places)))
    if version == find_python.WANTED:
        return None
    return (
        f"Running on Python {version[0]}.{version[1]}, since no 3.13 was found. All works, but "
        "the runtime's wheels ship uncompiled and start more slowly. Install 3.13 to change that."
    )


def _mark(places: Places) -> Path:
    return places.venv / "set-up.json"


def _version(said: dict[str, Any]) -> tuple[int, int]:
    major, minor = said["python"]
    return (major, minor)


def _print(places: Places, part: str) -> str:
    return stamps.fingerprint([places.lock(part)])


def _is_stale(places: Places, said: dict[str, Any]) -> bool:
    """Whether the environment must be made anew: moved, its Python gone, a lock changed."""
    if said.get("root") != str(places.root) or not Path(python_of(places)).exists():
        return True
    if any(_print(places, part) != known for part, known in said["parts"].items()):
        return True
    return _version(said) != find_python.WANTED and find_python.find(find_python.WANTED) is not None


def _make(places: Places) -> tuple[int, int]:
    """A new, empty environment; an old or unfinished one goes first."""
    if places.venv.exists():
        say("The environment .venv is unfinished or out of date. Making it anew.")
        _remove(places.venv)
    python = find_python.choose(places)
    say(f"Using Python {python.version[0]}.{python.version[1]}: {python.path}")
    make = [python.path, str(places.make_environment), str(places.venv)]
    try:
        run("Making the environment .venv", make)
    except ProgramFailed as failure:
        raise SetUpStopped(
            f"{python.path} could not make an environment in {places.venv}.",
            found=failure.lines[-4:],
            fix="see that the folder can be written to and the disk is not full, then run again.",
        ) from failure
    return python.version


def _remove(folder: Path) -> None:
    try:
        shutil.rmtree(folder)
    except OSError as error:
        raise SetUpStopped(
            f"{folder} could not be removed: {error.strerror} ({error.filename}).",
            fix="end the programs that run from it, or delete it by hand, then run again.",
        ) from error


def _install(places: Places, part: str) -> None:
    lock = places.lock(part)
    counter = _Counter(lock)
    # Python compiles what it imports; pip would compile all, which takes two thirds of its time.
    command = [python_of(places), *PIP, "install", "--no-compile", *LOCKED, "-r", str(lock)]
    purpose = "to build and serve" if part == "site" else "to test"
    try:
        run(
            f"Installing Python packages {purpose}",
            command,
            detail=counter.heard,
            env=variables(places),
        )
    except ProgramFailed as failure:
        raise fetch_errors.stopped(
            failure, what="Python packages", tool="pip", last=counter.last
        ) from failure


class _Counter:
    """How far pip is, from what it prints."""

    def __init__(self, lock: Path) -> None:
        text = lock.read_text(encoding="utf-8")
        self._all = len(re.findall(r"^\S+==", text, flags=re.MULTILINE))
        self._seen = 0
        self.last = ""

    def heard(self, line: str) -> str | None:
        named = re.search(r"satisfies the requirement ([\w.-]+)", line)
        if named:
            self.last = named[1]
        match = re.match(r"(?:Collecting|Requirement already satisfied:) ([\w.-]+)", line)
        if match:
            self._seen += 1
            self.last = match[1]
            return f"{self._seen} of {self._all}: {self.last}"
        return "unpacking" if line.startswith("Installing collected") else None
