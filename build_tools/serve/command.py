"""The command `serve`: shows the site at a local address and builds it again after an edit."""

import sys
import threading
import time
from collections.abc import Sequence
from pathlib import Path

from build_tools.serve.builder import Builder
from build_tools.serve.local_server import Shown, address, opened
from build_tools.serve.watch import look
from build_tools.setup.paths import ROOT
from build_tools.sources import overlays

SITE = ROOT / ".cache" / "serve" / "site"
LOOK_EVERY_S = 0.3  # a look takes some 10 ms of a processor, all the time that `serve` runs
REST_S = 0.1  # an editor that saves several files at once takes no longer between two
ASK_EVERY_S = 0.05  # whether a build has ended: that takes next to nothing


def serve(port: int, layers: Sequence[Path] = ()) -> None:
    """Show the site until the person stops it."""
    try:
        overlays.read(layers)  # one that is not there is told of at once
        _serve(port, Shown(SITE), layers)
    except KeyboardInterrupt:
        print("\nStopped.")


def _serve(port: int, shown: Shown, layers: Sequence[Path]) -> None:
    seen = look(layers=layers)
    builder = Builder(shown.site, layers=layers)
    try:
        builder.build()
        while not _has_ended(builder, shown):
            time.sleep(ASK_EVERY_S)
        _open(port, shown)
        _watch(builder, shown, seen, layers)
    finally:
        builder.stop()


def _open(port: int, shown: Shown) -> None:
    server = opened(port, shown)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"\nThe handbook is at {address(server)}", flush=True)
    print("It is built again when a file changes. Stop with Ctrl-C.", flush=True)


def _watch(builder: Builder, shown: Shown, built: object, layers: Sequence[Path]) -> None:
    """Build once the files rest: an editor may save several at once."""
    before = built
    while True:
        now = look(layers=layers)
        if now == before != built:
            print("\nA file changed.", flush=True)
            builder.build()
            built = now
        _wait(LOOK_EVERY_S if now == before else REST_S, builder, shown)
        before = now


def _wait(seconds: float, builder: Builder, shown: Shown) -> None:
    """Wait, and tell of a build that ends meanwhile."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        _has_ended(builder, shown)
        time.sleep(ASK_EVERY_S)


def _has_ended(builder: Builder, shown: Shown) -> bool:
    """Tell how a build ended, here and in the pages."""
    problems = builder.problems()
    if problems is None:
        return False
    shown.problems = problems
    if problems:
        print(problems, file=sys.stderr, flush=True)
        print("\nPut that right: the site is built again when a file changes.", flush=True)
    else:
        print("The site is up to date.", flush=True)
    return True
