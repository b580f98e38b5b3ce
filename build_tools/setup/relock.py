"""Make the locks again after a change to an .in file: python -m build_tools.setup.relock.

Releases that are locked stay; add --upgrade to take the newest that the .in files allow. A lock
holds sums and no host, so it works with whatever index pip is set to use.
"""

from __future__ import annotations

import sys
from pathlib import Path

from build_tools.setup import uv
from build_tools.setup.paths import Places
from build_tools.setup.progress import ProgramFailed, run

COMPILE = [
    "pip",
    "compile",
    "--universal",
    "--generate-hashes",
    "--no-annotate",
    "--no-header",
    "--no-emit-index-url",
    "--no-emit-find-links",
    "--quiet",
]
# Each lock: the oldest Python that it serves, and the lock whose releases it has to share. A lock
# serves every later Python too: where they need different releases, its lines say which is whose.
PLAN = {
    "site": ("3.11", None),
    "test": ("3.11", "site"),
    "browser": ("3.13", "site"),
    "uv": ("3.9", None),  # start.py runs on 3.9, and may need uv there
}


def main(words: list[str]) -> int:
    """Write every lock; `words` go to uv."""
    places = Places(Path(__file__).resolve().parents[2])
    program = uv.command(places)
    if program is None:
        print("The locks were not made: uv could not be installed.", file=sys.stderr)
        return 1
    folder = places.locks.parent
    for name, (oldest, bound) in PLAN.items():
        options = ["--python-version", oldest, "--output-file", str(places.lock(name)), *words]
        if bound:
            options += ["--constraint", str(places.lock(bound))]
        try:
            run(f"Locking {name}", [program, *COMPILE, str(folder / f"{name}.in"), *options])
        except ProgramFailed as failure:
            print("\n".join(failure.lines), file=sys.stderr)
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
