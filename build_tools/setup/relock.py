"""Make the locks again after a change to an .in file: python -m build_tools.setup.relock.

Releases that are locked stay; add --upgrade to take the newest that the .in files allow. A lock
holds sums and no host, so it works with whatever index pip is set to use.
"""

from __future__ import annotations

import subprocess
import sys

from build_tools.setup import paths, uv
from build_tools.setup.progress import ProgramFailed

COMPILE = ("pip", "compile", "--universal", "--generate-hashes", "--no-annotate", "--no-header")
NO_HOST = ("--no-emit-index-url", "--no-emit-find-links", "--quiet")
# Each lock: the oldest Python that it serves, and the lock whose releases it has to share. A lock
# serves every later Python too: where they need different releases, its lines say which is whose.
PLAN = {
    "site": ("3.11", None),
    "test": ("3.11", "site"),
    "runtime": ("3.13", "site"),
    "uv": ("3.9", None),  # start.py runs on 3.9, and may need uv there
}


def main(words: list[str]) -> None:
    """Write every lock; `words` go to uv."""
    for name, (oldest, bound) in PLAN.items():
        options = ["--python-version", oldest, "--output-file", str(paths.LOCKS / f"{name}.txt")]
        if bound:
            options += ["--constraint", str(paths.LOCKS / f"{bound}.txt")]
        command = [uv.program(), *COMPILE, *NO_HOST, *options, *words]
        subprocess.run([*command, str(paths.LOCKS.parent / f"{name}.in")], check=True)


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except (ProgramFailed, subprocess.CalledProcessError) as failure:
        sys.exit(f"The locks were not made: {failure}.")
