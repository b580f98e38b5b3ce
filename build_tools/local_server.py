"""A server on this machine alone, with the types of files that browsers insist on."""

import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar

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
    disable_nagle_algorithm = True  # else what follows a head waits until its receipt comes: 40 ms
    extensions_map: ClassVar[dict[str, str]] = {**SimpleHTTPRequestHandler.extensions_map, **TYPES}

    def end_headers(self) -> None:
        """Let the browser keep a file, and ask each time whether it has changed."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def list_directory(self, *_: Any) -> None:
        """A folder without a page: say so, and don't show its files."""
        self.send_error(404, "There is no page here. The terminal says what is wrong.")

    def log_message(self, *_: Any) -> None:
        """Say nothing for each file."""


class Server(ThreadingHTTPServer):
    """Says nothing of a browser that leaves a page while its files are still coming."""

    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Show only what is a fault of ours."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def opened(port: int, site: Path) -> ThreadingHTTPServer:
    """A server at this port, or at the next one that is free. What is taken is said."""
    site.mkdir(parents=True, exist_ok=True)
    handler = partial(Handler, directory=str(site))
    for each in range(port, port + PORTS_TRIED):
        try:
            server = Server((HOST, each), handler)
        except OSError:
            continue
        if each != port:
            print(f"Port {port} is taken by another program, so port {each} is used.")
        return server
    raise SystemExit(
        f"Ports {port} to {port + PORTS_TRIED - 1} are all in use.\nFix: name another with --port."
    )


def address(server: ThreadingHTTPServer) -> str:
    """Where its front page is."""
    return f"http://{HOST}:{server.server_port}/"
