"""A SCORM 1.2 package: one page with the paper, its figures frozen, that tells its score.

The platform takes a score from 0 to 100, so it gets per cent of the marks, rounded down. An unsafe
choice has no place of its own there: it costs its marks, and is told on the page.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from calcs.practice.exports.items import Item
from calcs.practice.exports.markup import DECLARATION, Markup, element
from calcs.practice.exports.scorm_page import SCRIPT, STYLE

# "asks no other host": not even this one, but for the files beside the page.
POLICY = "default-src 'none'; img-src 'self'; script-src 'self'; style-src 'self'"
CONTENT = "http://www.imsproject.org/xsd/imscp_rootv1p1p2"
ADL = "http://www.adlnet.org/xsd/adlcp_rootv1p2"
FILES = ("index.html", "paper.js", "paper.css")
TITLE = 200  # signs of a title in the manifest


def files(items: list[Item], title: str, needed: int) -> dict[str, str]:
    """Every file of a package, by name."""
    texts = (_page(items, title, needed), SCRIPT, STYLE)
    percent = 100 * needed // _of(items)
    pictures = {f"{each.id}.svg": each.picture for each in items if each.picture}
    found = {**dict(zip(FILES, texts, strict=True)), **pictures}
    return {"imsmanifest.xml": _manifest(title, percent, list(found)), **found}


def _shown(item: Item) -> dict[str, Any]:
    picture = f"{item.id}.svg" if item.picture else ""
    return {"several": item.is_several, "picture": picture}


def _of(items: list[Item]) -> int:
    return sum((each.marks for each in items), start=0)


def _page(items: list[Item], title: str, needed: int) -> str:
    listed = [{**asdict(each), **_shown(each)} for each in items]
    paper = {"of": _of(items), "needed": needed, "items": listed}
    # In a script's text only `</` and `<!--` mean something: no `<` is left.
    held = json.dumps(paper, ensure_ascii=False).replace("<", "\\u003c")
    head = element(
        "head",
        {},
        element("meta", {"charset": "utf-8"}),
        element("meta", {"http-equiv": "Content-Security-Policy", "content": POLICY}),
        element("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        element("title", {}, title),
        element("link", {"rel": "stylesheet", "href": FILES[2]}),
    )
    total = element("p", {"id": "total", "tabindex": "-1", "hidden": "", "class": "told"}, "")
    body = element(
        "body",
        {},
        element("h1", {}, title),
        total,
        element("form", {}, element("button", {"type": "submit"}, "Hand it in")),
        element("script", {"id": "paper", "type": "application/json"}, Markup(held)),
        element("script", {"src": FILES[1]}, ""),
    )
    return f"<!doctype html>\n{element('html', {'lang': 'en-GB'}, head, body)}\n"


def _manifest(title: str, percent: int, names: list[str]) -> str:
    item = element(
        "item",
        {"identifier": "item", "identifierref": "paper"},
        element("title", {}, title[:TITLE]),
        element("adlcp:masteryscore", {}, str(percent)),
    )
    organization = element(
        "organization", {"identifier": "organization"}, element("title", {}, title[:TITLE]), item
    )
    resource = element(
        "resource",
        {
            "identifier": "paper",
            "type": "webcontent",
            "adlcp:scormtype": "sco",
            "href": FILES[0],
        },
        *(element("file", {"href": each}) for each in names),
    )
    manifest = element(
        "manifest",
        {"identifier": "manifest", "version": "1.0", "xmlns": CONTENT, "xmlns:adlcp": ADL},
        element(
            "metadata",
            {},
            element("schema", {}, "ADL SCORM"),
            element("schemaversion", {}, "1.2"),
        ),
        element("organizations", {"default": "organization"}, organization),
        element("resources", {}, resource),
    )
    return f"{DECLARATION}{manifest}\n"
