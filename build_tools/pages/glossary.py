"""The glossary: its terms by letter, and a link to a term where a page first uses it."""

import re
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from build_tools.pages.autolink import replaced
from build_tools.pages.content_node import ContentNode
from build_tools.sources.terms import any_term


def term_id(term: str) -> str:
    """Where a term stands on its page.

    >>> term_id("Wobbe index")
    'term-wobbe-index'
    """
    return "term-" + re.sub(r"[^a-z0-9]+", "-", term.lower()).strip("-")


def by_letter(node: ContentNode) -> list[dict[str, Any]]:
    """The terms of a page under their first letters."""
    names = sorted(node.value or {}, key=str.casefold)
    return [
        {
            "id": f"letter-{letter.lower()}",
            "title": letter,
            "terms": [
                {"id": term_id(name), "name": name, "meaning": node[name].html} for name in group
            ],
        }
        for letter, group in groupby(names, key=lambda name: name[0].upper())
    ]


def linked(html: str, terms: Iterable[str], page: str) -> str:
    """The page with a link at the first use of each term.

    Args:
        html: The body of a page.
        terms: Every term of the glossary.
        page: Address of the glossary from this page.

    >>> linked("<h2>Flue</h2><p>The flue. Two flues.</p>", ["flue"], "g.html")
    '<h2>Flue</h2><p>The <a class="hb-term" href="g.html#term-flue">flue</a>. Two flues.</p>'
    >>> linked('<div class="hb-limit"><p>Flue</p></div><p><b>Flue</b><br></p>', ["flue"], "g.html")
    '<div class="hb-limit"><p>Flue</p></div><p><b>Flue</b><br></p>'
    """
    known = {term.lower(): term for term in terms}
    if not known:
        return html
    find, used = any_term(known.values()), set[str]()

    def link(found: re.Match[str]) -> str:
        words = found[0].lower()
        term = next(known[each] for each in (words, words[:-1], words[:-2]) if each in known)
        if term in used:
            return found[0]
        used.add(term)
        return f'<a class="hb-term" href="{page}#{term_id(term)}">{found[0]}</a>'

    return replaced(html, find, link)
