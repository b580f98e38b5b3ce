"""A server that packs what servers pack, and that a test may cut, slow down or feed with faults."""

from __future__ import annotations

import gzip
import threading
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

from build_tools.bench.edition_size import PACKED
from build_tools.serve.local_server import TYPES

KINDS = {**TYPES, ".css": "text/css", ".html": "text/html", ".png": "image/png"}
CHUNK = 16_384


@dataclass
class Site:
    """What is served now, and what was asked for."""

    folder: Path
    address: str = ""
    spoilt: dict[str, bytes] = field(default_factory=dict)
    kinds: dict[str, str] = field(default_factory=dict)  # by the ending, where it is sent wrongly
    asked: list[str] = field(default_factory=list)
    cut_after: int | None = None  # files that still go out; then every connection breaks
    bytes_per_second: float | None = None
    sent: int = 0
    turn: threading.Lock = field(default_factory=threading.Lock)

    def cut(self) -> None:
        """Break every connection from now on."""
        self.cut_after = 0

    def mend(self) -> None:
        """Be a server again."""
        self.cut_after = None

    def content(self, path: str) -> bytes | None:
        """What goes out for a path."""
        name = unquote(path).lstrip("/") or "index.html"
        if name in self.spoilt:
            return self.spoilt[name]
        file = self.folder / name
        return file.read_bytes() if file.is_file() else None


@cache
def packed(content: bytes) -> bytes:
    """As a server packs it that is told no more than to pack: nginx has this level by itself."""
    return gzip.compress(content, 1)


class Handler(BaseHTTPRequestHandler):
    """Answers for one site."""

    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True  # see build_tools/serve/local_server.py
    site: Site

    def do_GET(self) -> None:
        path = urlsplit(self.path).path
        with self.site.turn:
            self.site.asked.append(unquote(path).lstrip("/"))
            left = self.site.cut_after
            if left is not None:
                self.site.cut_after = max(0, left - 1)
        if left == 0:
            self.close_connection = True
            return
        content = self.site.content(path)
        mark = f'"{zlib.crc32(content or b"")}"'
        if content and self.headers.get("If-None-Match") == mark:
            content, status = b"", 304
        else:
            status = 404 if content is None else 200
        self.send_response(status)
        self.send_header("ETag", mark)
        self.send_header("Cache-Control", "no-cache")
        kind = Path(path).suffix or ".html"
        sent_as = {**KINDS, **self.site.kinds}.get(kind, "application/octet-stream")
        self.send_header("Content-Type", sent_as)
        if content and kind in PACKED:
            self.send_header("Content-Encoding", "gzip")
            content = packed(content)
        if status != 304:
            self.send_header("Content-Length", str(len(content or b"")))
        self.end_headers()
        self._send(content or b"")

    def _send(self, content: bytes) -> None:
        speed = self.site.bytes_per_second
        for at in range(0, len(content), CHUNK):
            part = content[at : at + CHUNK]
            with self.site.turn:
                self.site.sent += len(part)
                if speed:  # one line for all: who waits keeps the others waiting
                    time.sleep(len(part) / speed)
            self.wfile.write(part)

    def log_message(self, *_: object) -> None:
        """A test that fails says what it asked for."""


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, *_: object) -> None:
        """A page that is left drops its connections: that is no fault."""


@contextmanager
def served(folder: Path) -> Iterator[Site]:
    """The folder, as long as it is needed."""
    site = Site(folder)
    server = _Server(("127.0.0.1", 0), type("ForOne", (Handler,), {"site": site}))
    thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    site.address = f"http://127.0.0.1:{server.server_port}/"
    try:
        yield site
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
