"""Words for the search are the same whether a page is read in one or in pieces."""

from __future__ import annotations

import pytest

from build_tools.pages import search

SECTION = '<section class="s" id="{0}"><h2>{0}</h2><p>Words of {0}.</p></section>'
FORM = '<form><label>Not words</label><section id="no">No</section></form>'


@pytest.mark.parametrize(
    ("html", "read_anew"),
    [
        ("<p>Above.</p>" + SECTION.format("a") + FORM + SECTION.format("b"), 0),
        ("<nav>" + SECTION.format("a") + "</nav>" + SECTION.format("b"), 1),
        ("<h2>One" + SECTION.format("a") + "</h2>" + SECTION.format("b"), 1),
        ('<section aria-label="x">No id</section>' + SECTION.format("a"), 0),
        (SECTION.format("a") + "<p>Before</p><svg><text>no</text></svg>after<svg/>", 0),
        ("<p>Gas<template><p>no</p></template>works &am" + SECTION.format("a"), 1),
    ],
)
def test_a_page_in_pieces_has_the_places_that_it_has_in_one(html, read_anew, monkeypatch):
    whole, _ = search.in_piece(html)
    read = []
    monkeypatch.setattr(search, "in_piece", lambda text: read.append(text) or piece(text))
    assert search.places_of(html, piece) == whole
    assert len(read) == read_anew


piece = search.in_piece


def test_a_section_that_stood_before_is_not_read_again():
    asked: dict[str, search.Piece] = {}

    def look(text: str) -> search.Piece:
        if text not in asked:
            asked[text] = search.in_piece(text)
        return asked[text]

    before = SECTION.format("a") + SECTION.format("b")
    search.places_of(before, look)
    count = len(asked)
    found = search.places_of(before + SECTION.format("c"), look)
    assert [place["id"] for place in found] == ["a", "b", "c"]
    assert len(asked) == count + 1
