"""Serves a folder on this machine alone, with the types that a static server gives."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar


class _Quiet(SimpleHTTPRequestHandler):
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


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Address of the folder, as long as it is needed."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
