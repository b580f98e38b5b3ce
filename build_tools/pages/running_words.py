"""Links set into the running words of a finished page: never into names, titles, links or input."""

import re
from collections.abc import Callable, Mapping
from functools import cache, lru_cache

from build_tools.once import MOST

PIECES = re.compile(r"(<[^>]*>)")
PROCEDURE = re.compile(r"\w procedure\b")
TAG = re.compile(r"<(/?)([a-z][a-z0-9-]*)")
# Words in these are names, titles, links or input, and never explained where they stand.
HEADINGS = {"h1", "h2", "h3", "h4", "h5", "h6", "header"}
NAMES = {"b", "caption", "dt", "figcaption", "table", "th", "title"}
ELEMENTS = {"hb-calculator", "hb-stopwatch", "hb-timer"}
DOINGS = {"a", "button", "form", "label", "nav", "option", "select", "summary"}
NO_WORDS = {"script", "style", "svg", "template"}
LIMIT = 'class="hb-limit"'  # the box of a limit beside a reading: a name and a figure
LEFT_ALONE = HEADINGS | NAMES | DOINGS | ELEMENTS | NO_WORDS
VOID = {"br", "hr", "img", "input", "link", "meta", "path", "use", "wbr"}


def replaced(html: str, find: re.Pattern[str], link: Callable[[re.Match[str]], str]) -> str:
    """The page with what the pattern finds in its running words replaced.

    >>> replaced("<h2>Gas</h2><p>Gas, <b>gas</b></p>", re.compile("Gas"), lambda found: "Air")
    '<h2>Gas</h2><p>Air, <b>gas</b></p>'
    """
    if not find.search(html):
        return html
    pieces, inside = PIECES.split(html), list[str]()
    for number, piece in enumerate(pieces):
        if number % 2:
            _follow(piece, inside)
        elif not inside:
            pieces[number] = find.sub(link, piece)
    return "".join(pieces)


def procedures_linked(html: str, links: Mapping[str, str]) -> str:
    """The page with each procedure that a sentence names linked to it.

    Args:
        html: The body of a page.
        links: Stem of a procedure to its address from this page.

    >>> procedures_linked("<p>Follow the hot water procedure.</p>", {"hot_water": "hot.html"})
    '<p>Follow the <a href="hot.html">hot water procedure</a>.</p>'
    """
    return _procedures_linked(html, tuple(links.items()))


@lru_cache(maxsize=MOST)
def _procedures_linked(html: str, links: tuple[tuple[str, str], ...]) -> str:
    names = _named(html, {_name(stem): link for stem, link in links})
    if not names:
        return html
    find = re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})\b")
    return replaced(html, find, lambda found: f'<a href="{names[found[0]]}">{found[0]}</a>')


@cache
def _name(stem: str) -> str:
    return f"{stem.replace('_', ' ')} procedure"


def _named(html: str, links: Mapping[str, str]) -> dict[str, str]:
    """The procedures whose names a page holds: looking for all of many takes too long."""
    ends = {found.end() for found in PROCEDURE.finditer(html)}
    return {
        name: link
        for name, link in links.items()
        if any(html.endswith(name, 0, end) for end in ends)
    }


def _follow(tag: str, inside: list[str]) -> None:
    """Keep count of the parts that are left alone, and of what is open within them."""
    read = TAG.match(tag)
    if read is None or read[2] in VOID or tag.endswith("/>"):
        return
    closes, name = bool(read[1]), read[2]
    if not closes and (inside or name in LEFT_ALONE or LIMIT in tag):
        inside.append(name)
    elif closes and inside:
        inside.pop()
