"""The list of words that the search of the site looks through, made from the pages themselves."""

import json
import re
from html.parser import HTMLParser
from typing import Any

from build_tools.pages import Handbook
from build_tools.remembered import Work

DOINGS = {"form", "label", "button", "summary", "nav", "hb-stopwatch", "hb-timer"}
SKIPPED = {"template", "svg", "script", "noscript", *DOINGS}
HEADINGS = {"h1", "h2", "h3", "h4", "dt"}
PASSED_OVER = {"hb-unseen", "hb-task__number"}  # words for the ear, and numbers of steps
LONGEST = 400  # letters kept of a place: enough to find it, and the list stays light
PLACES = {"section", "li", "h3", "tr", "dt"}  # what may carry an id that a reader can be sent to
# Most of a calculator's page, and none of it words. A void tag stays: words beside it stay apart.
WORDLESS = re.compile(r"<(svg|form|template)\b.*?</\1>", re.DOTALL)
CUT = re.compile(r"(?=<section [^>]*\sid=)")  # an edit changes one section, here and elsewhere
Piece = tuple[list[dict[str, str]], bool]  # places, and whether the next piece begins anew
VOID = {"input", "br", "hr", "img", "meta", "link", "wbr"}


def script(handbook: Handbook, look: Work) -> str:
    """A script that sets the list. A page opened from a folder can load a script, not a file.

    Args:
        handbook: The pages.
        look: `in_piece`, or the same with a memory.
    """
    entries: list[dict[str, Any]] = []
    for page in handbook.pages:
        for place in places_of(page.html, look):
            url = f"{page.path}#{place['id']}" if place["id"] else page.path
            words = {"heading": place["heading"], "text": place["text"]}
            entries.append({"id": len(entries), "url": url, "title": page.title, **words})
    said: dict[str, list[str]] = {}  # an everyday word may stand for several of the trade's
    for word, others in handbook.synonyms.items():
        for each in others:
            said.setdefault(each.lower(), []).append(word)
    index = {"entries": entries, "synonyms": said}
    return f"window.hbSearchIndex = {json.dumps(index, ensure_ascii=False)};\n"


def places_of(html: str, look: Work | None = None) -> list[dict[str, str]]:
    """The places of a page that a reader can be sent to, each with its heading and its words.

    Args:
        html: The body of the page.
        look: `in_piece`, or the same with a memory.
    """
    words = WORDLESS.sub("<br>", html)
    found: list[Piece] = [(look or in_piece)(piece) for piece in CUT.split(words)]
    first, later = found[0][0], [place for places, _ in found[1:] for place in places]
    if all(is_whole for _, is_whole in found) and all(place["id"] for place in later):
        return first + later
    return in_piece(words)[0]  # a section stands within what is passed over


def in_piece(html: str) -> Piece:
    """The places of a piece of a page, and whether it leaves nothing open that matters here."""
    reader = _Reader()
    reader.feed(html)
    is_whole = not (reader.rawdata or reader.skipping or reader.heading)
    reader.close()
    return _with_words(reader.places), is_whole


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


class _Reader(HTMLParser):
    """Cuts a page at every part that has an id and gathers its heading and its words."""

    def __init__(self) -> None:
        super().__init__()
        self.places: list[dict[str, str]] = [{"id": "", "heading": "", "text": ""}]
        self.skipping: list[str] = []
        self.heading: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Open a place, a heading, or a part whose words are not the page's."""
        if tag in VOID:
            return
        given = dict(attrs)
        passed_over = PASSED_OVER & set((given.get("class") or "").split())
        if self.skipping or tag in SKIPPED or passed_over:
            self.skipping.append(tag)
            return
        if tag in PLACES and given.get("id"):
            self.places.append({"id": str(given["id"]), "heading": "", "text": ""})
        is_row_name = tag == "th" and given.get("scope") == "row"
        if (tag in HEADINGS or is_row_name) and self.heading is None:
            self.heading = tag

    def handle_endtag(self, tag: str) -> None:
        """Close what was opened."""
        if self.skipping:
            self.skipping.pop()
        elif tag == self.heading:
            self.heading = None

    def handle_data(self, data: str) -> None:
        """Words of a heading, or of the text below it."""
        if self.skipping:
            return
        place = self.places[-1]
        first = self.heading is not None and not place["text"].strip()
        place["heading" if first and place["id"] else "text"] += f"{data} "
