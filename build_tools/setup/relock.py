"""Make the locks again after a change to an .in file: python -m build_tools.setup.relock.

Releases that are locked stay; add --upgrade to take the newest that the .in files allow. A lock
holds sums and no host, so it works with whatever index pip is set to use.
"""

from __future__ import annotations

import sys
from pathlib import Path

from build_tools.setup import uv
from build_tools.setup.places import Places
from build_tools.setup.pythons import ALSO_GOOD, WANTED
from build_tools.setup.show import ProgramFailed, run

OLDEST = "3.9"  # start.py runs on it, and may need uv there
COMPILE = [
    "pip",
    "compile",
    "--universal",
    "--generate-hashes",
    "--no-annotate",
    "--no-header",
    "--no-emit-index-url",
    "--quiet",
]


def main(words: list[str]) -> int:
    """Write every lock; `words` go to uv."""
    places = Places(Path(__file__).resolve().parents[2])
    program = uv.command(places)
    if program is None:
        print("The locks were not made: uv could not be installed.", file=sys.stderr)
        return 1
    folder = places.locks.parent
    for source, lock, python, also in plan(places):
        options = ["--python-version", python, "--output-file", str(lock), *also, *words]
        label = f"Locking {lock.name}"
        try:
            run(label, [program, *COMPILE, str(folder / source), *options])
        except ProgramFailed as failure:
            print("\n".join(failure.lines), file=sys.stderr)
            return 1
    return 0


def plan(places: Places) -> list[tuple[str, Path, str, list[str]]]:
    """What each lock is made from, for which Python, bound to which other lock."""
    made = []
    for version in (WANTED, *ALSO_GOOD):
        python = f"{version[0]}.{version[1]}"
        site = places.lock("site", version)
        made.append(("site.in", site, python, []))
        made.append(("test.in", places.lock("test", version), python, ["-c", str(site)]))
    wanted = f"{WANTED[0]}.{WANTED[1]}"
    bound = ["-c", str(places.lock("site", WANTED))]
    made.append(("browser.in", places.locks / "browser.txt", wanted, bound))
    made.append(("uv.in", places.locks / "uv.txt", OLDEST, []))
    return made


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
