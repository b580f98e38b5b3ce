"""A Chromium with a profile on disk, and the built site on a local server."""

import os
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import ClassVar

from playwright.sync_api import BrowserContext, Page, Playwright, sync_playwright

from build_tools.setup import chromium as finding


class NoChromium(Exception):
    """There is no Chromium to measure with."""


@dataclass(frozen=True)
class Browser:
    """An open browser and the address of the site."""

    context: BrowserContext
    address: str
    version: str

    def page(self, path: str) -> Page:
        """A new tab with a page of the site."""
        page = self.context.new_page()
        page.goto(self.address + path)
        return page


class _Handler(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True  # as build_tools/serve/local_server.py
    extensions_map: ClassVar[dict[str, str]] = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript",
        ".wasm": "application/wasm",
        ".whl": "application/zip",
        ".woff2": "font/woff2",
    }

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "max-age=3600")
        super().end_headers()

    def log_message(self, *_: object) -> None:
        pass


class _Server(ThreadingHTTPServer):
    def handle_error(self, *_: object) -> None:
        """A tab that is closed drops its connections: that is no fault."""


@contextmanager
def chromium(
    site: Path, playwright: Playwright | None = None, *, keeps: bool = False
) -> Iterator[Browser]:
    """The browser with the site, as long as it is needed.

    Args:
        site: A built site.
        playwright: One that has been started; a process can have one at a time.
        keeps: Whether it keeps the edition for later, which takes a core for a while.

    Raises:
        NoChromium: None was found.
    """
    program = finding.find()
    if not program:
        raise NoChromium("No Chromium was found.\nFix: set HB_CHROMIUM to the path of one.")
    # Chromium's sandbox does not start for the root user of a container.
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    options = {"executable_path": program, "args": ["--no-sandbox"] if is_root else []}
    server = _Server(("127.0.0.1", 0), partial(_Handler, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with ExitStack() as closing:
        profile = closing.enter_context(TemporaryDirectory(ignore_cleanup_errors=True))
        started = playwright or closing.enter_context(sync_playwright())
        # A passing profile has a cache in memory that is too small for the runtime.
        quiet = {**options, "service_workers": "allow" if keeps else "block"}
        context = started.chromium.launch_persistent_context(profile, **quiet)
        version = context.browser.version if context.browser else "Chromium"
        try:
            yield Browser(context, f"http://127.0.0.1:{server.server_port}/", version)
        finally:
            context.close()
            server.shutdown()
            server.server_close()
