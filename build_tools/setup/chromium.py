"""A Chrome or Chromium for the browser tests: the one that is here, else one that is installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from build_tools.setup import environment
from build_tools.setup.places import CHROMIUM_NAMES, WINDOWS, Places, chromium_places
from build_tools.setup.show import ProgramFailed, run, say
from build_tools.setup.stopped import SetUpStopped

VARIABLE = "HB_CHROMIUM"
ASK_PLAYWRIGHT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as started:
    print(started.chromium.executable_path)
"""


def prepare(places: Places) -> str:
    """Path of a browser that starts."""
    found = find() or _of_playwright(places)
    if found:
        return found
    say("No Chrome or Chromium found. Trying to install one.")
    found = _by_playwright(places) or _by_apt()
    if found:
        return found
    raise SetUpStopped(
        "The browser tests need Chrome or Chromium. None was found, and neither Playwright's "
        "installer nor the system's package manager brought one.",
        fix="install Chromium or Chrome, or set HB_CHROMIUM to the path of one, and run again.",
    )


def find() -> str | None:
    """A browser that HB_CHROMIUM names, that is on PATH, or that is in a usual place."""
    named = os.environ.get(VARIABLE)
    if named and not _starts(named):
        raise SetUpStopped(
            f"HB_CHROMIUM names {named}, which does not start.",
            fix="set it to the path of a Chrome or Chromium, or unset it.",
        )
    on_path = [shutil.which(name) for name in CHROMIUM_NAMES]
    usual = chromium_places(os.environ, Path.home(), sys.platform)
    every = [named, *on_path, *map(str, usual)]
    return next((path for path in every if path and _starts(path)), None)


def _starts(path: str) -> bool:
    """Whether the program is there and its libraries too. On Windows --version opens a window."""
    if sys.platform == WINDOWS or not Path(path).is_file():
        return Path(path).is_file()
    try:
        subprocess.run([path, "--version"], capture_output=True, timeout=30, check=True)
    except (OSError, subprocess.SubprocessError):
        return False
    return True


def _of_playwright(places: Places) -> str | None:
    """The browser that Playwright installed earlier."""
    answer = subprocess.run(
        [environment.python_of(places), "-c", ASK_PLAYWRIGHT],
        capture_output=True,
        text=True,
        check=False,
    )
    path = answer.stdout.strip()
    return path if path and _starts(path) else None


def _by_playwright(places: Places) -> str | None:
    command = [environment.python_of(places), "-m", "playwright", "install", "chromium"]
    try:
        run("Fetching Chromium with Playwright", command, env=environment.variables(places))
    except ProgramFailed:
        return None
    return _of_playwright(places)


def _by_apt() -> str | None:
    """Debian's package, where this is Debian and the person may install."""
    apt = shutil.which("apt-get")
    if apt is None or not hasattr(os, "geteuid") or os.geteuid() != 0:
        return None
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = [apt, "install", "--yes", "--no-install-recommends", "chromium"]
    try:
        run("Reading the system's list of packages", [apt, "update"], env=env)
        run("Installing the system's Chromium", install, env=env)
    except ProgramFailed:
        return None
    return find()
