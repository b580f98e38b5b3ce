"""The tool uv: fetches a Python, and writes the locks."""

from __future__ import annotations

import shutil
import subprocess
import sys

from build_tools.setup.paths import Places, scripts_folder, venv_python
from build_tools.setup.progress import ProgramFailed, run, say


def command(places: Places) -> str | None:
    """Path of uv: on PATH, or installed from its lock into the cache; nothing when neither."""
    found = shutil.which("uv")
    if found:
        return found
    venv = places.cache / "uv"
    made = shutil.which("uv", path=str(scripts_folder(venv, sys.platform)))
    if made:
        return made
    install = ["-m", "pip", "install", "--disable-pip-version-check", "--require-hashes"]
    lock = ["-r", str(places.lock("uv"))]
    try:
        make = [sys.executable, str(places.make_environment), str(venv)]
        run("Making a place for uv", make)
        run("Installing uv", [str(venv_python(venv, sys.platform)), *install, *lock])
    except ProgramFailed:
        return None
    return shutil.which("uv", path=str(scripts_folder(venv, sys.platform)))


def get_python(places: Places, version: tuple[int, int]) -> str | None:
    """Path of a Python that uv fetched or already had; nothing, said plainly, when it can't."""
    uv = command(places)
    name = f"{version[0]}.{version[1]}"
    if uv is None:
        say(f"  uv could not be installed, so Python {name} was not fetched.")
        return None
    try:
        run(f"Fetching Python {name} with uv", [uv, "python", "install", name])
    except ProgramFailed as failure:
        last = failure.lines[-1].strip() if failure.lines else "it gave no reason"
        say(f"  uv could not fetch Python {name}: {last}")
        return None
    answer = subprocess.run(
        [uv, "python", "find", name], capture_output=True, text=True, check=False
    )
    return answer.stdout.strip() or None
