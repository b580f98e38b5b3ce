"""Fetch the wheels that run in the reader's browser, so that a build needs no network."""

from __future__ import annotations

import shutil
from pathlib import Path

from build_tools.setup import environment, fetch_errors, stamps
from build_tools.setup.paths import Places
from build_tools.setup.progress import ProgramFailed, run


def is_ready(places: Places) -> bool:
    """Whether the folder holds what the lock says."""
    return stamps.read(_mark(places)) == _said(places)


def prepare(places: Places) -> None:
    """Fetch them all anew into the cache."""
    shutil.rmtree(_folder(places), ignore_errors=True)
    lock = str(places.lock("browser"))
    options = [*environment.LOCKED, "--only-binary", ":all:", "--dest", str(_folder(places))]
    try:
        run(
            "Fetching the wheels that run in the browser",
            [environment.python_of(places), *environment.PIP, "download", *options, "-r", lock],
            env=environment.variables(places),
        )
    except ProgramFailed as failure:
        raise fetch_errors.stopped(
            failure, what="Wheels for the browser", tool="pip", last=""
        ) from failure
    stamps.write(_mark(places), _said(places))


def _folder(places: Places) -> Path:
    return places.cache / "wheels"


def _mark(places: Places) -> Path:
    return _folder(places) / "set-up.json"


def _said(places: Places) -> dict[str, str]:
    return {"lock": stamps.fingerprint([places.lock("browser")])}
