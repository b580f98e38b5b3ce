"""What stands in a page and would run or style it from there, which no strict policy allows."""

from __future__ import annotations

from html.parser import HTMLParser

RUNNING = {"", "text/javascript", "module"}  # kinds of <script> that run; JSON does not


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        runs = tag == "script" and "src" not in given and (given.get("type") or "") in RUNNING
        if runs or tag == "style":
            self._note(f"<{tag}>")
        for name, value in attrs:
            is_script = (value or "").strip().lower().startswith("javascript:")
            if is_script or name == "style" or name.startswith("on"):
                self._note(f"<{tag} {name}>")

    def _note(self, what: str) -> None:
        self.found.append(f"line {self.getpos()[0]}: {what}")


def inline(html: str) -> list[str]:
    """Every script, style and handler that stands in the page itself."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return reader.found
