"""The policy of the pages: what may stand in one, and what it must name."""

from __future__ import annotations

import pytest

from build_tools import csp
from build_tools.remembered import remembering

# From the standard's own example of a hash: CSP Level 3, section 8.3, "alert('Hello, world.');".
HELLO = "alert('Hello, world.');"
HELLO_HASH = "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="
HEAD = '<!doctype html><html><head><meta charset="utf-8"><title>T</title></head><body>'


def page(tmp_path, body: str, name: str = "index.html"):
    path = tmp_path / name
    path.write_text(HEAD + body, encoding="utf-8")
    return path


def test_hash_is_the_standards():
    assert csp.digest(HELLO) == HELLO_HASH


def test_an_inline_script_is_named_on_every_page(tmp_path):
    first = page(tmp_path, f"<script>{HELLO}</script>")
    second = page(tmp_path, "<p>None here.</p>", "second.html")
    csp.apply(tmp_path)
    for path in (first, second):
        assert f"'{HELLO_HASH}'" in path.read_text("utf-8")


def test_data_in_a_script_is_not_a_script(tmp_path):
    path = page(tmp_path, '<script type="application/json">{"a": 1}</script>')
    csp.apply(tmp_path)
    assert "sha256" not in path.read_text("utf-8")


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ('<p style="color: red">', "line 1: <p> has the attribute style"),
        ("<style>p {}</style>", "line 1: <style> has a style element"),
        ('<a onclick="go()">', "line 1: <a> has the attribute onclick"),
        ('<a href=" JavaScript:go()">', "line 1: <a> has a script in href"),
    ],
)
def test_what_would_need_an_unsafe_policy_is_refused_with_its_place(tmp_path, body, told):
    page(tmp_path, body)
    with pytest.raises(csp.UnsafePageError, match=f"index.html, {told}"):
        csp.apply(tmp_path)


def test_a_page_without_a_head_to_begin_is_refused(tmp_path):
    (tmp_path / "index.html").write_text("<p>No head.</p>")
    with pytest.raises(csp.UnsafePageError, match=r"index\.html has no <meta charset"):
        csp.apply(tmp_path)


def test_another_edition_of_a_page_is_not_looked_through_again(tmp_path):
    looked: list[str] = []

    def look(text: str):
        looked.append(text)
        return csp.in_piece(text)

    for edition in ("2026-11-25 aaaaaaa", "2026-11-26 bbbbbbb"):
        page = tmp_path / edition / "index.html"
        page.parent.mkdir()
        page.write_text(
            f'<meta charset="utf-8">\n<meta name="hb-edition" content="{edition}">\n'
            f"<p>Edition {edition}<script>1</script>"
        )
        csp.apply(page.parent, look)
        assert csp.digest("1") in page.read_text()
        assert page.read_text().count(edition) == 2
    assert looked[0] == looked[1]


@pytest.mark.parametrize(
    "body",
    [
        "<main>\n<section>\n<p>One.</p>\n</section>\n<ul><li onclick='go()'>\n<li style='a'></ul>",
        "<script>if (a) b = '<li>'\n+ '<section onclick=1>'</script>\n<li onclick='go()'>",
        "<!-- <li onclick='go()'>\n<section> -->\n<li style='a'>",
        "<p title='<li '>\n<li title='<section onclick=1>' onclick='go()'>",
        "<p>Ham &<li style='a'>&am<section>",
    ],
)
def test_a_page_in_pieces_holds_what_it_holds_in_one(body):
    scripts, places, _ = csp.in_piece(body)
    assert csp.inline(body) == (scripts, [f"line {line}: {what}" for line, what in places])
    assert len(csp.CUT.split(body)) > 1


def test_a_piece_that_stood_before_is_not_looked_through_again(tmp_path):
    looked: list[str] = []

    def look(text: str):
        looked.append(text)
        return csp.in_piece(text)

    with remembering(look, csp.__file__, tmp_path) as remembered:
        for words in ("One", "Two"):
            csp.inline(f"<main><section>{words}</section><section>Both</section>", remembered)
    assert looked == ["", "<main>", "<section>One</section>", "<section>Both</section>",
                      "<section>Two</section>"]  # fmt: skip
