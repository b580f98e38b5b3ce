"""A Chrome or Chromium for the browser tests: the one that is here, else Playwright's."""

from __future__ import annotations

import glob
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Sequence

from build_tools.setup import paths
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.progress import ProgramFailed, run, say

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
SHELL_NAMES = ("chromium-headless-shell", "chrome-headless-shell")
# Where it is when it isn't on PATH, on Linux, macOS and Windows; Playwright's own come last.
PLACES = (
    "/usr/lib/chromium/chromium",
    "/snap/bin/chromium",
    "/opt/google/chrome/chrome",
    "/Applications/*/Contents/MacOS/Google Chrome",
    "/Applications/*/Contents/MacOS/Chromium",
    "${PROGRAMFILES}/Google/Chrome/Application/chrome.exe",
    "${PROGRAMFILES(X86)}/Google/Chrome/Application/chrome.exe",
    "${LOCALAPPDATA}/Google/Chrome/Application/chrome.exe",
    "${LOCALAPPDATA}/Chromium/Application/chrome.exe",
    "${PLAYWRIGHT_BROWSERS_PATH}/chromium-*/chrome-*/chrome",
    "~/.cache/ms-playwright/chromium-*/chrome-*/chrome",
    "~/Library/Caches/ms-playwright/chromium-*/chrome-*/*.app/Contents/MacOS/*",
    "${LOCALAPPDATA}/ms-playwright/chromium-*/chrome-*/chrome.exe",
)


def prepare() -> None:
    """See that there is a browser that starts.

    Raises:
        SetUpStopped: There is none, and Playwright brings none.
    """
    if find():
        return
    install = [paths.python(), "-m", "playwright", "install", "chromium"]
    try:
        run("Fetching Chromium with Playwright", install, paths.variables())
    except ProgramFailed as failure:
        say("\n".join(failure.lines[-5:]))
    if not find():
        raise SetUpStopped(
            "The browser tests need Chrome or Chromium. None was found, and neither the system's "
            "package manager nor Playwright's installer brought one.",
            fix="install Chromium or Chrome, or set HB_CHROMIUM to the path of one, and run again.",
        )


def find() -> str | None:
    """The browser that HB_CHROMIUM names, else one on PATH, in a usual place, or Playwright's."""
    return named() or first(NAMES, PLACES)


def named() -> str | None:
    """The browser that HB_CHROMIUM names."""
    named = os.environ.get("HB_CHROMIUM")
    if named and not _starts(named):
        raise SetUpStopped(
            f"HB_CHROMIUM names {named}, which does not start.",
            fix="set it to the path of a Chrome or Chromium, or unset it.",
        )
    return named or None


def first(names: Sequence[str], places: Sequence[str] = ()) -> str | None:
    """The first that starts: of names on PATH, then of files in the usual places."""
    on_path = [*filter(None, map(shutil.which, names))]
    patterns = [str(Path(os.path.expandvars(place)).expanduser()) for place in places]
    files = [path for pattern in patterns for path in sorted(glob.glob(pattern))]  # noqa: PTH207  a drive, too
    return next((path for path in [*on_path, *files] if _starts(path)), None)


def _starts(path: str) -> bool:
    """Whether the program is there and its libraries too. On Windows --version opens a window."""
    if sys.platform == "win32" or not Path(path).is_file():
        return Path(path).is_file()
    try:
        asked = subprocess.run([path, "--version"], capture_output=True, timeout=30, check=False)
    except (OSError, subprocess.SubprocessError):
        return False
    return asked.returncode == 0
