"""The list of words that the search of the site looks through, made from the pages themselves."""

import json
import re
from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from html import unescape
from typing import Any, NamedTuple

from build_tools.pages.handbook import Handbook
from build_tools.sources.page_kinds import FOLDERS

DOINGS = {"form", "label", "button", "summary", "nav", "hb-stopwatch", "hb-timer"}
SKIPPED = {"noscript", *DOINGS}
HEADINGS = {"h1", "h2", "h3", "h4", "dt"}
# Words for the ear, numbers of steps and checks, the "Why" before a reason, and what stands for a
# list whose words are searched.
PASSED_OVER = {
    *("hb-unseen", "hb-task__number", "hb-checks__number", "hb-task__key"),
    *("hb-tasks__span", "hb-short", "hb-ways", "hb-foot"),
    "hb-recap",  # the page that it is taken from is found by its words
}
LONGEST = 400  # letters kept of a place: enough to find it, and the list stays light
PLACES = {"section", "li", "h3", "tr", "dt"}  # what may carry an id that a reader can be sent to
PLACES_IN_MARKDOWN = {"h2", "h3"}
# Most of a calculator's page, and none of it words. A void tag stays: words beside it stay apart.
WORDLESS = re.compile(r"<(svg|form|template|script)\b.*?</\1>", re.DOTALL)
# Our templates write tags in small letters and escape what stands in values: this reads them, in a
# fifth of the time of a parser that is ready for any page.
TOKEN = re.compile(r"<(/?)([a-z][a-z0-9-]*)([^>]*)>|[^<]+")
ATTRIBUTE = re.compile(r'\s(id|class|scope)="([^"]*)"')
VOID = {"input", "br", "hr", "img", "meta", "link", "wbr"}


class Added(NamedTuple):
    """A page that a host wrote in Markdown."""

    path: str
    title: str
    html: str


def script(handbook: Handbook, added: Iterable[Added] = ()) -> str:
    """A script that sets the list, by the name that the theme's search has for it.

    A page opened from a folder can load a script, not a file. Each page is said once, with its
    places as id, heading and text: `web/src/search/search-worker.js` makes entries of them.
    """
    ours = [(page.path, page.title, places_of(page.html)) for page in handbook.pages]
    theirs = [(path, title, places_of(html, PLACES_IN_MARKDOWN)) for path, title, html in added]
    pages: list[Any] = [
        [path, title, [[place["id"], place["heading"], place["text"]] for place in places]]
        for path, title, places in [*ours, *theirs]
    ]
    said: dict[str, list[str]] = {}  # an everyday word may stand for several of the trade's
    for word, others in handbook.synonyms.items():
        for each in others:
            said.setdefault(each.lower(), []).append(word)
    kinds = {folder: kind.title for folder, kind in FOLDERS.items()}
    words = {"synonyms": said, "kinds": kinds, "symptoms": handbook.symptoms}
    index = {"config": {}, "docs": {"pages": pages, **words}}
    text = json.dumps(index, ensure_ascii=False, separators=(",", ":"))
    return f"var __index = {text};\n"


def places_of(html: str, tags: AbstractSet[str] = PLACES) -> list[dict[str, str]]:
    """The places of a page that a reader can be sent to, each with its heading and its words."""
    reader = _Reader(tags)
    for found in TOKEN.finditer(WORDLESS.sub("<br>", html)):
        closes, tag, attributes = found.groups()
        if tag is None:
            reader.read(unescape(found[0]))
        elif closes:
            reader.close(tag)
        else:
            reader.open(tag, attributes)
    return _with_words(reader.places)


def _with_words(places: list[dict[str, str]]) -> list[dict[str, str]]:
    return [
        {
            "id": place["id"],
            "heading": " ".join(place["heading"].split()),
            "text": " ".join(place["text"].split())[:LONGEST],
        }
        for place in places
        if place["text"].strip() or place["heading"].strip()
    ]


class _Reader:
    """Cuts a page at every part that has an id and gathers its heading and its words."""

    def __init__(self, tags: AbstractSet[str]) -> None:
        self.tags = tags
        self.places: list[dict[str, str]] = [{"id": "", "heading": "", "text": ""}]
        self.skipping: list[str] = []
        self.heading: str | None = None

    def open(self, tag: str, attributes: str) -> None:
        """Open a place, a heading, or a part whose words are not the page's."""
        if tag in VOID:
            return
        given = dict(ATTRIBUTE.findall(attributes))
        passed_over = PASSED_OVER & set(given.get("class", "").split())
        if self.skipping or tag in SKIPPED or passed_over:
            self.skipping.append(tag)
            return
        if tag in self.tags and given.get("id"):
            self.places.append({"id": unescape(given["id"]), "heading": "", "text": ""})
        is_row_name = tag == "th" and given.get("scope") == "row"
        if (tag in HEADINGS or is_row_name) and self.heading is None:
            self.heading = tag

    def close(self, tag: str) -> None:
        """Close what was opened."""
        if self.skipping:
            self.skipping.pop()
        elif tag == self.heading:
            self.heading = None

    def read(self, words: str) -> None:
        """Words of a heading, or of the text below it."""
        if self.skipping:
            return
        place = self.places[-1]
        first = self.heading is not None and not place["text"].strip()
        place["heading" if first and place["id"] else "text"] += f"{words} "
