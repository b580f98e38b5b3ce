"""Shows the site at a local address and builds it again when a file changes."""

import hashlib
import os
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from build_tools import local_server
from build_tools.days import build_day
from build_tools.project import ROOT
from build_tools.standing import Standing

PLACE = ROOT / ".cache" / "serve"
WATCHED = ("content", "data", "calcs", "build_tools", "mkdocs.yml")
PASSED_OVER = {"node_modules", "__pycache__", "bundle.json"}
LOOK_EVERY_S = 0.1  # half of it is what an edit waits; a look takes a few milliseconds


def serve(port: int) -> None:
    """Show the site until the person stops it."""
    try:
        _serve(port, PLACE / "site")
    except KeyboardInterrupt:
        print("\nStopped.")


def _serve(port: int, site: Path) -> None:
    seen = _stamp()
    if not _is_fresh(seen):
        _build(site, seen)
    server = local_server.opened(port, site)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"\nThe handbook is at {local_server.address(server)}", flush=True)
    print("It is built again when a file changes. Stop with Ctrl-C.", flush=True)
    _watch(site, seen)


def _build(site: Path, stamp: str) -> None:
    """The first build: whole, before anything is shown."""
    PLACE.mkdir(parents=True, exist_ok=True)
    for broken_off in PLACE.glob(".site-*"):
        shutil.rmtree(broken_off, ignore_errors=True)
    command = [sys.executable, "-m", "build_tools", "build", "--draft", "--out", str(site)]
    _settled(subprocess.run(command, cwd=ROOT, check=False).returncode, stamp)


def _watch(site: Path, seen: str) -> None:
    """Build in a process of its own: changed formulas and tools are the ones that run."""
    standing = Standing(site)
    try:
        while True:
            time.sleep(LOOK_EVERY_S)
            now = _stamp()
            if now != seen:
                seen = now
                standing.give_up()
                print("\nA file changed.", flush=True)
                standing.build()
            status = standing.settled()
            if status is not None:
                _settled(status, seen)
    finally:
        standing.end()


def _settled(status: int, stamp: str) -> None:
    """Remember what the site was built from; after problems it stays as it was."""
    if status == 0:
        (PLACE / "stamp").write_text(stamp, encoding="utf-8")
        print("The site is up to date.", flush=True)
    else:
        print("\nThe site is as it was. It is built again when a file changes.", flush=True)


def _is_fresh(stamp: str) -> bool:
    """Whether the site was built from exactly these files on this day."""
    kept = PLACE / "stamp"
    same = kept.exists() and kept.read_text(encoding="utf-8") == stamp
    return same and (PLACE / "site" / "index.html").exists()


def _stamp() -> str:
    """Changes when a watched file does, and from one day to the next."""
    total = hashlib.sha256(build_day().isoformat().encode())
    with os.scandir(ROOT) as top:
        watched = sorted((each for each in top if each.name in WATCHED), key=_name)
    for each in watched:
        for path, about in _files(each):
            total.update(f"{path}\0{about.st_mtime_ns}\0{about.st_size}\0".encode())
    return total.hexdigest()


def _files(entry: os.DirEntry[str]) -> Iterator[tuple[str, os.stat_result]]:
    """Every file there or below, with what the system knows of it."""
    with suppress(FileNotFoundError, NotADirectoryError):  # gone since it was listed
        if entry.is_file():
            yield entry.path, entry.stat()
            return
        with os.scandir(entry) as inside:
            found = [each for each in inside if each.name not in PASSED_OVER]
        for each in sorted(found, key=_name):
            if not each.name.startswith("."):
                yield from _files(each)


def _name(entry: os.DirEntry[str]) -> str:
    return entry.name
