"""Serves a folder on this machine alone, with the types that a static server gives."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar


class _Quiet(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"  # one connection for many files
    disable_nagle_algorithm = True  # see build_tools/serve/local_server.py
    extensions_map: ClassVar[dict[str, str]] = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript",
        ".json": "application/json",
        ".wasm": "application/wasm",
        ".woff2": "font/woff2",
        ".whl": "application/zip",
        ".zip": "application/zip",
    }

    def log_message(self, *_: object) -> None:
        """Nothing: a test that fails says what it asked for."""


class _WithoutPython(_Quiet):
    """Sends a worker that never answers, so that no page starts a Python nobody asks anything."""

    EMPTY: ClassVar[tuple[str, ...]] = ("/worker.js",)

    def do_GET(self) -> None:
        path = self.path.partition("?")[0]
        if not path.endswith(self.EMPTY):
            super().do_GET()
            return
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Length", "0")
        self.end_headers()


class _Bare(_WithoutPython):
    """Sends no look and no script of the theme either: what pages do by themselves is left."""

    EMPTY = (*_WithoutPython.EMPTY, ".css", ".woff2", ".min.js", ".svg", ".png")


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, *_: object) -> None:
        """A page that is left drops its connections: that is no fault."""


@contextmanager
def served(folder: Path, *, python: bool = True, bare: bool = False) -> Iterator[str]:
    """Address of the folder, as long as it is needed.

    Args:
        folder: Its files.
        python: Whether calculators start.
        bare: Pages without their look: quick to load where it is not looked at.
    """
    handler = _Bare if bare else _Quiet if python else _WithoutPython
    server = _Server(("127.0.0.1", 0), partial(handler, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
