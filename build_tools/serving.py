"""Shows the site at a local address and builds it again when a file changes."""

import hashlib
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar

from build_tools.bundle import build_day
from build_tools.project import ROOT

PLACE = ROOT / ".cache" / "serve"
WATCHED = ("content", "data", "calcs", "build_tools", "mkdocs.yml")
PASSED_OVER = {"node_modules", "__pycache__", "bundle.json"}
LOOK_EVERY_S = 0.4
PORTS_TRIED = 20
HOST = "127.0.0.1"
TYPES = {
    ".gz": "application/gzip",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".svg": "image/svg+xml",
    ".wasm": "application/wasm",
    ".whl": "application/zip",
    ".woff2": "font/woff2",
    ".zip": "application/zip",
}


class Handler(SimpleHTTPRequestHandler):
    """Sends the files of the site with the types that browsers insist on."""

    protocol_version = "HTTP/1.1"
    extensions_map: ClassVar[dict[str, str]] = {**SimpleHTTPRequestHandler.extensions_map, **TYPES}

    def end_headers(self) -> None:
        """Let the browser keep a file, and ask each time whether it has changed."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, *_: Any) -> None:
        """Say nothing for each file."""


def serve(port: int) -> None:
    """Show the site until the person stops it."""
    site = PLACE / "site"
    seen = _stamp()
    if not _is_fresh(seen):
        _build(site, seen)
    server = _open(port, site)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"\nThe handbook is at http://{HOST}:{server.server_port}/", flush=True)
    print("It is built again when a file changes. Stop with Ctrl-C.", flush=True)
    try:
        _watch(site, seen)
    except KeyboardInterrupt:
        print("\nStopped.")


def _watch(site: Path, seen: str) -> None:
    while True:
        time.sleep(LOOK_EVERY_S)
        now = _stamp()
        if now != seen:
            seen = now
            start = time.monotonic()
            if _build(site, now):
                print(f"Built again in {time.monotonic() - start:.1f} s.", flush=True)


def _build(site: Path, stamp: str) -> bool:
    """Build in a process of its own, so that changed formulas and tools are the ones that run."""
    PLACE.mkdir(parents=True, exist_ok=True)
    command = [sys.executable, "-m", "build_tools", "build", "--out", str(site)]
    made = subprocess.run(command, cwd=ROOT, check=False).returncode == 0
    if made:
        (PLACE / "stamp").write_text(stamp, encoding="utf-8")
    else:
        print("\nThe site is as it was before. It is built again when a file changes.", flush=True)
    return made


def _is_fresh(stamp: str) -> bool:
    """Whether the site was built from exactly these files on this day."""
    kept = PLACE / "stamp"
    same = kept.exists() and kept.read_text(encoding="utf-8") == stamp
    return same and (PLACE / "site" / "index.html").exists()


def _stamp() -> str:
    """Changes when a watched file does, and from one day to the next."""
    total = hashlib.sha256(build_day().isoformat().encode())
    for name in WATCHED:
        for path in _files(ROOT / name):
            about = path.stat()
            total.update(f"{path}\0{about.st_mtime_ns}\0{about.st_size}\0".encode())
    return total.hexdigest()


def _files(path: Path) -> Iterator[Path]:
    if path.is_file():
        yield path
    elif path.is_dir():
        for each in sorted(path.iterdir()):
            if each.name not in PASSED_OVER and not each.name.startswith("."):
                yield from _files(each)


def _open(port: int, site: Path) -> ThreadingHTTPServer:
    """A server at this port, or at the next one that is free."""
    site.mkdir(parents=True, exist_ok=True)
    handler = partial(Handler, directory=str(site))
    for each in range(port, port + PORTS_TRIED):
        try:
            return ThreadingHTTPServer((HOST, each), handler)
        except OSError:
            continue
    raise SystemExit(
        f"Ports {port} to {port + PORTS_TRIED - 1} are all in use.\nFix: name another with --port."
    )
