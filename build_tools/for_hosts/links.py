"""The links of a host's own pages: each leads to a page and a place that are there."""

from collections.abc import Iterator, Mapping
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag

from build_tools.sources.problems import Problem

ELSEWHERE = ("http:", "https:", "mailto:", "tel:", "//")
FIX = "name a page that is there; in Markdown a page is named by its file, as about.md"


class _Read(HTMLParser):
    """What a page links to, and the places in it that can be linked to."""

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.places: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id" or (name == "name" and tag == "a"):
                self.places.add(value or "")
            elif name == "href" and tag == "a" and value:
                self.links.append(value)


@cache
def _read(file: Path) -> _Read:
    reader = _Read()
    reader.feed(file.read_text("utf-8"))
    return reader


def tried(site: Path, pages: Mapping[str, str]) -> tuple[list[Problem], int]:
    """Links that lead nowhere, and how many were followed.

    Args:
        site: A built site.
        pages: The file that each page comes from, by the page's address in the site.
    """
    found: list[Problem] = []
    followed = 0
    for page, file in pages.items():
        for link in dict.fromkeys(_read(site / page).links):
            if not link.startswith(ELSEWHERE):
                followed += 1
                found += _broken(site, site / page, link, file)
    return found, followed


def _broken(site: Path, page: Path, link: str, file: str) -> Iterator[Problem]:
    address, place = urldefrag(link)
    there = (page.parent / unquote(address.partition("?")[0])).resolve() if address else page
    there = there / "index.html" if there.is_dir() else there
    if not there.is_relative_to(site.resolve()) or not there.is_file():
        yield Problem(file, 1, 1, "", f"The link '{link}' leads to no page.", "", FIX)
    elif place and there.suffix == ".html" and unquote(place) not in _read(there).places:
        found = f"The link '{link}' leads to a page that has no such place."
        yield Problem(file, 1, 1, "", found, "", "name a heading of that page, or the page alone")
