"""What a page does that it may not do, heard while a test has it."""

from __future__ import annotations

from playwright.sync_api import BrowserContext, ConsoleMessage


class Watch:
    """What a page may not do: speak to another host, fail to load a file, report an error."""

    def __init__(self, context: BrowserContext, address: str, meant: str = "") -> None:
        self.address = address
        self.meant = meant
        self.found: list[str] = []
        context.on("request", lambda request: self._asked(request.url))
        context.on("requestfailed", lambda request: self._failed(request.url, request.failure))
        context.on("response", lambda response: self._answered(response.url, response.status))
        context.on("console", self._said)
        context.on("weberror", lambda error: self._thrown(str(error.error)))

    def _asked(self, url: str) -> None:
        if not url.startswith((self.address, "data:", "blob:")):
            self.found.append(f"asked another host: {url}")

    def _failed(self, url: str, why: str | None) -> None:
        # A page that is left stops what it was fetching: that is no fault.
        if why != "net::ERR_ABORTED":
            self.found.append(f"did not load: {url} ({why})")

    def _answered(self, url: str, status: int) -> None:
        if status >= 400:
            self.found.append(f"answered {status}: {url}")

    def _thrown(self, error: str) -> None:
        if error != self.meant:
            self.found.append(f"uncaught: {error}")

    def _said(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.found.append(f"console: {message.text} ({message.location.get('url')})")
