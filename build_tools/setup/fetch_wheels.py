"""Fetch the wheels that run in the reader's browser, so that a build needs no network."""

from __future__ import annotations

import shutil

from build_tools.setup import paths, stamps
from build_tools.setup.fetch_errors import LOCKED, PIP, fetch

LOCK = paths.LOCKS / "runtime.txt"
FOLDER = paths.CACHE / "wheels"
STAMP = FOLDER / "set-up.json"


def prepare() -> None:
    """Fetch them all anew into the cache."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    download = ["download", *LOCKED, "--only-binary", ":all:", "-d", str(FOLDER), "-r", str(LOCK)]
    fetch("Wheels for the browser", "Fetching the browser's wheels", [*PIP, *download])
    stamps.write(STAMP, {"files": stamps.fingerprint(LOCK)})
