"""A server on this machine alone, with the types of files that browsers insist on.

Into each page that it sends it puts `reload.js`, which no built site holds.
"""

import json
import sys
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar
from urllib.parse import urlsplit

HERE = Path(__file__).parent
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
STATE = "/-serve/state.json"
OWN = {f"/-serve/{name}": HERE / name for name in ("reload.js", "reload.css")}
HEAD_ENDS = "</head>"
SCRIPT = (
    '<link rel="stylesheet" href="/-serve/reload.css">'
    '<script defer src="/-serve/reload.js" data-version="{version}"></script>'
)
ERROR_PAGE = (
    '<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><title>No page</title>'
    "{script}</head><body><h1>%(code)d</h1><p>%(message)s</p></body></html>"
)


@dataclass
class Shown:
    """The site, and what is wrong with the newest edit."""

    site: Path
    problems: str = ""

    def version(self) -> str:
        """Another text after each build; empty in the moment in which one site takes the place."""
        try:
            folder, last = self.site.stat(), (self.site / "assets/handbook/edition.js").stat()
        except FileNotFoundError:
            return ""
        return f"{folder.st_ino}-{folder.st_ctime_ns}-{last.st_mtime_ns}"


class Handler(SimpleHTTPRequestHandler):
    """Sends the files of the site with the types that browsers insist on."""

    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True  # else what follows a head waits until its receipt comes: 40 ms
    extensions_map: ClassVar[dict[str, str]] = {**SimpleHTTPRequestHandler.extensions_map, **TYPES}

    def __init__(self, *given: Any, shown: Shown, **named: Any) -> None:
        self._shown = shown
        super().__init__(*given, directory=str(shown.site), **named)

    def do_GET(self) -> None:
        """Send a file; a page with our script in its head; or how the build stands."""
        path = urlsplit(self.path).path
        script = SCRIPT.format(version=self._shown.version())  # before the page is read
        file = Path(self.translate_path(f"{path}index.html" if path.endswith("/") else path))
        if path == STATE:
            state = {"version": self._shown.version(), "problems": self._shown.problems}
            self._send(json.dumps(state), TYPES[".json"])
        elif path in OWN:
            self._send(OWN[path].read_text("utf-8"), self.guess_type(OWN[path]))
        elif file.suffix == ".html" and file.is_file():
            page = file.read_text("utf-8")
            self._send(page.replace(HEAD_ENDS, f"{script}\n{HEAD_ENDS}", 1), "text/html")
        else:
            self.error_message_format = ERROR_PAGE.format(script=script)
            super().do_GET()

    def _send(self, text: str, kind: str) -> None:
        content = text.encode()
        self.send_response(200)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def end_headers(self) -> None:
        """Let the browser keep a file, and ask each time whether it has changed."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def list_directory(self, *_: Any) -> None:
        """A folder without a page: say so, and don't show its files."""
        self.send_error(404, "There is no page here.")

    def log_message(self, *_: Any) -> None:
        """Say nothing for each file."""


class Server(ThreadingHTTPServer):
    """Says nothing of a browser that leaves a page while its files are still coming."""

    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Show only what is a fault of ours."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def opened(port: int, shown: Shown) -> ThreadingHTTPServer:
    """A server at this port, or at the next one that is free. What is taken is said."""
    shown.site.mkdir(parents=True, exist_ok=True)
    handler = partial(Handler, shown=shown)
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
