"""Serves a built runtime as a strict server does, with files that a test may spoil."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

PAGE = b"<!doctype html><html lang=en><title>Runtime</title><body>Nothing but a worker."
TYPES = {".js": "text/javascript", ".json": "application/json", ".wasm": "application/wasm"}
POLICY = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'"


@dataclass(frozen=True)
class Sent:
    """What the server sends for one file."""

    content: bytes
    status: int = 200
    kind: str = "application/octet-stream"
    headers: dict[str, str] = field(default_factory=dict)


@dataclass
class Site:
    """A folder `assets`, one empty page, and whatever a test puts in place of a file.

    Below each number the same lies once more, so that a page may ask again as if for the first
    time: what its browser keeps, it keeps by its address.
    """

    assets: Path
    origin: str = ""
    number: int = 0
    spoilt: dict[str, Sent] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)

    @property
    def base(self) -> str:
        """Where all of it lies now."""
        return f"{self.origin}{self.number}/"

    def anew(self) -> None:
        """Lie at another address, which nothing was fetched from. Nothing is spoilt there."""
        self.number += 1
        self.spoilt, self.asked = {}, []

    def sent(self, path: str) -> Sent:
        """What goes out for a path."""
        if path == "/":
            return Sent(PAGE, kind="text/html")
        path = path.lstrip("/").partition("/")[2]
        name = path.rsplit("/", 1)[-1]
        if name in self.spoilt:
            return self.spoilt[name]
        file = self.assets.parent / path
        if not file.is_file():
            return Sent(b"", status=404, kind="text/html")
        return Sent(file.read_bytes(), kind=TYPES.get(file.suffix, "application/octet-stream"))

    def flip(self, name: str, at: int = -1) -> None:
        """Send a file with one bit changed."""
        content = bytearray((self.assets / "runtime" / name).read_bytes())
        content[at] ^= 1
        self.spoilt[name] = Sent(bytes(content), kind=TYPES.get(Path(name).suffix, "x/x"))


@contextmanager
def served(assets: Path) -> Iterator[Site]:
    """A site as long as it is needed. Files may be kept by the browser for an hour."""
    site = Site(assets)

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"
        disable_nagle_algorithm = True  # see build_tools/serve/local_server.py

        def do_GET(self) -> None:
            path = urlsplit(self.path).path
            site.asked.append(path.rsplit("/", 1)[-1])
            sent = site.sent(path)
            self.send_response(sent.status)
            headers = {"Content-Type": sent.kind, "Content-Length": str(len(sent.content))}
            always = {"Cache-Control": "max-age=3600", "Content-Security-Policy": POLICY}
            for header, value in {**headers, **always, **sent.headers}.items():
                self.send_header(header, value)
            self.end_headers()
            self.wfile.write(sent.content)

        def log_message(self, *_: object) -> None:
            pass

    class Server(ThreadingHTTPServer):
        def handle_error(self, *_: object) -> None:
            """A page that is left closes its connections: that is no fault."""

    server = Server(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    site.origin = f"http://127.0.0.1:{server.server_port}/"
    try:
        yield site
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
