"""The commands, once everything is set up: `python -m build_tools COMMAND`."""

import argparse
import importlib
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

from build_tools import commands
from build_tools.setup.errors import closed
from build_tools.setup.paths import ROOT

PORT = 8000
HIGHEST_PORT = 65535


class Options(argparse.ArgumentParser):
    """Reads the words after a command, as `build_tools/commands.py` tells them to a reader.

    What it can't read, it says in the project's way.
    """

    def __init__(self, command: commands.Command, **kinds: Callable[[str], Any]) -> None:
        super().__init__(prog=f"start.py {command.name}", add_help=False, allow_abbrev=False)
        for option in command.options:
            name, _, takes = option.partition(" ")
            if takes:
                self.add_argument(name, type=kinds.get(name.strip("-"), Path), default=None)
            else:
                self.add_argument(name, action="store_true")

    def error(self, message: str) -> NoReturn:
        """Say what was found and how to ask; end with status 2."""
        self.exit(2, f"{self.prog}: {message}.\nFix: see {self.prog} --help\n")


def main(arguments: list[str]) -> int:
    """Run one command; give its exit status. A folder that is closed to it is told in words."""
    try:
        return run(arguments)
    except OSError as problem:
        if problem.filename is None:
            raise
        print(closed(problem), file=sys.stderr)
        return 1


def run(arguments: list[str]) -> int:
    """Run one command; give its exit status."""
    found = commands.find_command(arguments)
    if isinstance(found, int):
        return found
    if found.module == "pytest":
        print(f"Run it with: python3 build_tools/start.py {found.name}", file=sys.stderr)
        return 2
    words = arguments[1:]
    module = importlib.import_module(f"build_tools.{found.module}")
    if found.name == "new":
        return int(module.main(words))
    given = Options(found, port=_port, repeats=_count).parse_args(words)
    if found.name == "serve":
        module.serve(given.port or PORT)
        return 0
    if found.name == "build":
        module.build(given.out or ROOT / "site", "draft" if given.draft else "hosted")
        return 0
    return int(module.main(**vars(given)))


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= HIGHEST_PORT:
        message = f"got '{text}', expected a whole number from 1 to {HIGHEST_PORT}"
        raise argparse.ArgumentTypeError(message)
    return int(text)


def _count(text: str) -> int:
    if not text.isdecimal() or not int(text):
        raise argparse.ArgumentTypeError(f"got '{text}', expected a whole number above 0")
    return int(text)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
