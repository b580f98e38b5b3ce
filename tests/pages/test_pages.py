"""Pages from small files: YAML in, and what a reader reads, or what an author is told, out."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from build_tools.pages import search
from build_tools.site.mkdocs_binding import bind
from build_tools.sources.problems import ProblemsFound
from tests.pages.page_text import text_of
from tests.pages.small_handbook import cases, handbook


@pytest.mark.parametrize("case", cases())
def test_page_or_message(case):
    if "message" in case:
        with pytest.raises(ProblemsFound) as told:
            handbook(case)
        assert str(told.value) == case["message"].rstrip("\n")
        return
    page = next(page for page in handbook(case).pages if page.path == case["page"])
    if "shows" in case:
        assert text_of(page.html) == case["shows"]
    html = page.html.replace("\N{NO-BREAK SPACE}", " ")
    assert [part for part in case.get("has", []) if part not in html] == []
    assert [part for part in case.get("lacks", []) if part in html] == []


def test_frame_of_a_page_survives_any_title(tmp_path):
    case = next(each.values[0] for each in cases() if "whatever" in str(each.id))
    made = handbook(case)
    front = replace(made.pages[0], path="index.html", kind="home")
    bind(replace(made, pages=[front, *made.pages]), tmp_path)
    page = (tmp_path / case["page"]).read_text("utf-8")
    title = "Less &lt; more &amp; &lt;b&gt;bold&lt;/b&gt;"
    assert f"<title>{title} · " in page
    assert f'aria-current="page">{title}</a>' in page
    assert 'name="description" content="&lt;script&gt;alert(1)&lt;/script&gt;"' in page


def test_search_finds_the_place_of_a_step_and_of_a_number():
    case = next(each.values[0] for each in cases() if "every-part" in str(each.id))
    text = search.script(handbook(case)).removeprefix("var __index = ")
    pages = json.loads(text.rstrip(";\n"))["docs"]["pages"]
    [places] = [places for path, _, places in pages if path == "procedures/rest.html"]
    found = {identity: words for identity, *words in places}
    heading, words = found["step-read"]
    assert heading == "Read it."
    assert "Now it holds." in words
    assert "Hot." in words
    assert found[""][1].startswith("Procedure Pressure Let it rest")
