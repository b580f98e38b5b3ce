"""The commands, once everything is set up: `python -m build_tools COMMAND`."""

import argparse
import importlib
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

from build_tools.setup import commands

ROOT = Path(__file__).resolve().parent.parent
PORT = 8000
HIGHEST_PORT = 65535


class Options(argparse.ArgumentParser):
    """Reads the words after a command; what it can't read, it says in the project's way."""

    def error(self, message: str) -> NoReturn:
        """Say what was found and how to ask; end with status 2."""
        self.exit(2, f"{self.prog}: {message}.\nFix: see {self.prog} --help\n")


def main(arguments: list[str]) -> int:
    """Run one command; give its exit status."""
    if not arguments or arguments[0] in {"-h", "--help", "help"}:
        print(commands.usage(ROOT))
        return 2
    name, rest = arguments[0], arguments[1:]
    found = commands.here(ROOT).get(name)
    if found is None or found.module == "pytest":
        print(commands.unknown(name, ROOT), file=sys.stderr)
        return 2
    module = importlib.import_module(f"build_tools.{found.module}")
    if name == "serve":
        return _serve(module.serve, rest)
    if name == "build":
        return _build(module.build, rest)
    # These read their own words, from where a program finds them.
    sys.argv = [f"start.py {name}", *rest]
    return module.main() or 0


def _serve(serve: Callable[[int], None], words: list[str]) -> int:
    options = Options(prog="start.py serve", description="Build the handbook and show it.")
    options.add_argument("--port", type=_port, default=PORT, help=f"default {PORT}")
    serve(options.parse_args(words).port)
    return 0


def _build(build: Callable[[Path, str], None], words: list[str]) -> int:
    options = Options(prog="start.py build", description="Build the handbook into a folder.")
    options.add_argument("--out", type=Path, default=ROOT / "site", help="default site")
    draft = "no service worker: nothing of it stays in a browser"
    options.add_argument("--draft", action="store_true", help=draft)
    given = options.parse_args(words)
    build(given.out, "draft" if given.draft else "hosted")
    return 0


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= HIGHEST_PORT:
        message = f"got '{text}', expected a whole number from 1 to {HIGHEST_PORT}"
        raise argparse.ArgumentTypeError(message)
    return int(text)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
