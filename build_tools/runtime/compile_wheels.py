"""Locks and compiles the wheels of a folder, with two commands of pyodide-build in one process.

Each loads every command that there is when it is called by its name, and that takes longer than
what it is called for. So both are called by the place that their packages declare for them.
"""

import os
import sys

from pyodide_build.cli.py_compile import main as py_compile
from pyodide_lock.cli import main as lockfile


def main(folder: str, known: str, lock: str, *wheels: str) -> None:
    """Write these wheels into a lock beside what it knows, and compile them. All in the folder."""
    os.chdir(folder)
    places = ["--input", known, "--output", lock, "--base-path", "."]
    lockfile.main(["add-wheels", *places, *wheels], standalone_mode=False)
    py_compile.main(["--silent", "."], standalone_mode=False)


if __name__ == "__main__":
    main(*sys.argv[1:])
