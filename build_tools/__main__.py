"""The commands, once everything is set up: `python -m build_tools COMMAND`."""

import argparse
import importlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

from build_tools import commands
from build_tools.setup.paths import ROOT
from build_tools.sources import overlays

HIGHEST_PORT = 65535


class Options(argparse.ArgumentParser):
    """Reads the words after a command, as `build_tools/commands.py` tells them to a reader.

    What it can't read, it says in the project's way.
    """

    def __init__(self, command: commands.Command, **kinds: Callable[[str], Any]) -> None:
        super().__init__(prog=f"start.py {command.name}", add_help=False, allow_abbrev=False)
        for word in command.takes.split():
            name = word.rstrip(commands.REPEATABLE).lower()
            several = "+" if word.endswith(commands.REPEATABLE) else None
            self.add_argument(name, type=kinds.get(name), nargs=several)
        for option in command.options:
            name, _, takes = option.partition(" ")
            if takes.endswith(commands.REPEATABLE):
                self.add_argument(name, type=_folder, action="append", default=[])
            elif takes:
                self.add_argument(name, type=kinds.get(name.strip("-"), _folder), default=None)
            else:
                self.add_argument(name, action="store_true")

    def error(self, message: str) -> NoReturn:
        """Say what was found and how to ask; end with status 2."""
        self.exit(2, f"{self.prog}: {message}.\nFix: see {self.prog} --help\n")


def main(arguments: list[str]) -> int:
    """Run one command; give its exit status. A folder that is closed to it is told in words."""
    try:
        return run(arguments)
    except overlays.NoOverlayError as problem:
        print(problem, file=sys.stderr)
        return 2
    except OSError as problem:
        if problem.filename is None:
            raise
        print(commands.closed(problem), file=sys.stderr)
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
    if found.name == "new" and words[:1] == ["overlay"]:
        return _new_overlay(words[1:])
    if found.name == "new":
        *named, last_but_one, last = ["", "", *words]
        if last_but_one == "--overlay":
            return int(module.main(named[2:], _folder(last)))
        return int(module.main(words))
    given = Options(found, port=_port, repeats=_count, file=_folder).parse_args(words)
    if found.name == "serve":
        module.serve(given.port or commands.PORT, given.overlay)
        return 0
    if found.name == "build":
        layers = overlays.read(given.overlay)
        module.build(given.out or ROOT / "site", "draft" if given.draft else "hosted", layers)
        return 0
    return int(module.main(**vars(given)))


def _new_overlay(words: list[str]) -> int:
    """Begin an overlay in the folder that is named."""
    from build_tools.sources import new_overlay  # noqa: PLC0415  no other command asks for it
    from build_tools.sources.days import build_day  # noqa: PLC0415  the same

    if len(words) != 1:
        print("Use: python3 build_tools/start.py new overlay FOLDER", file=sys.stderr)
        return 2
    try:
        print(new_overlay.begin(_folder(words[0]), build_day()))
    except new_overlay.NotBegunError as refusal:
        print(refusal, file=sys.stderr)
        return 2
    return 0


def _folder(text: str) -> Path:
    """A folder as its caller means it: start.py has gone to the project's own since."""
    return Path(os.environ.get("HANDBOOK_CALLED_FROM", "")) / text


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
    # pint loads NumPy where it finds it. The tests brought it, and the browser's Python has none.
    sys.modules["numpy"] = None  # type: ignore[assignment]  which says: it can't be imported
    try:
        status = main(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever reads has seen enough (`| head`); Python would complain again at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = 0
    sys.exit(status)
