"""A Chrome or Chromium for the browser tests: the one that is here, else one that is installed.

Most tests run in Chromium's headless shell where there is one: the same engine, and a page takes
half the work, because nothing of a window is made. Tests of what belongs to the window, and the
benchmark, run in the whole browser.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from build_tools.setup import environment, system_packages
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.paths import CHROMIUM_NAMES, WINDOWS, Places, chromium_places
from build_tools.setup.progress import ProgramFailed, run, say

VARIABLE = "HB_CHROMIUM"
SHELL_VARIABLE = "HB_CHROMIUM_SHELL"  # set-up hands it to the tests
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


def find_shell() -> str | None:
    """The headless shell, else the whole browser; where HB_CHROMIUM names one, that."""
    named = os.environ.get(SHELL_VARIABLE) or os.environ.get(VARIABLE)
    whole = named or find()
    return whole if named or whole is None else shell_for(whole)


def shell_for(whole: str) -> str:
    """The system's headless shell, or Playwright's beside its own Chromium; else the whole one."""
    if whole == os.environ.get(VARIABLE):
        return whole  # the person has chosen it
    every = [system_packages.SHELL.find(), *_beside(Path(whole))]
    return next((path for path in every if path and _starts(path)), whole)


def _beside(whole: Path) -> list[str]:
    """Playwright keeps `chromium-1/…/chrome` and `chromium_headless_shell-1/…/` in one folder."""
    own = next((each for each in whole.parents if each.name.startswith("chromium-")), None)
    if own is None:
        return []
    name = own.name.replace("chromium", "chromium_headless_shell")
    shells = (own.parent / name).glob("*/*headless[-_]shell*")
    return sorted(str(each) for each in shells if each.suffix in ("", ".exe"))


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
