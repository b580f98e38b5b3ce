"""A page of the site as it is read without a browser."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

POLICY = re.compile(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">')


class Page(HTMLParser):
    """What the tests ask of a page."""

    def __init__(self, path: Path, root: Path) -> None:
        super().__init__()
        self.name = path.relative_to(root).as_posix()
        self.path = path
        self.text = path.read_text("utf-8")
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.headings: list[tuple[int, str]] = []
        self.heading = 0
        self.title = ""
        self.in_title = False
        self.template = 0
        self.feed(self.text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.template += tag == "template"
        if not self.template:
            self.elements.append((tag, dict(attrs)))
        if re.fullmatch(r"h[1-6]", tag):
            self.heading = int(tag[1])
            self.headings.append((self.heading, ""))
        self.in_title = self.in_title or (tag == "title" and not self.title)

    def handle_endtag(self, tag):
        self.template -= tag == "template"
        self.heading = 0 if re.fullmatch(r"h[1-6]", tag) else self.heading
        self.in_title = self.in_title and tag != "title"

    def handle_data(self, data):
        if self.heading:
            level, text = self.headings[-1]
            self.headings[-1] = (level, text + data)
        if self.in_title:
            self.title += data

    def all(self, *tags: str) -> list[dict[str, Any]]:
        return [attrs for tag, attrs in self.elements if tag in tags]

    @property
    def ids(self) -> list[str]:
        return [str(attrs["id"]) for _, attrs in self.elements if attrs.get("id")]


def policy_of(page: str) -> str:
    """The policy that a page has: one, and no more."""
    [found] = POLICY.findall(page)
    return str(found)
