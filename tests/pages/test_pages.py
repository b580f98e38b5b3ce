"""Pages from small files: YAML in, and what a reader reads, or what an author is told, out."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from build_tools.pages import hosts, search
from build_tools.pages.handbook import Handbook, make
from build_tools.pages.page_context import PageContext
from build_tools.runtime import bundle
from build_tools.site.mkdocs_binding import bind
from build_tools.sources.load_project import from_texts
from build_tools.sources.problems import ProblemsFound
from build_tools.sources.project import Project, stem_of
from tests.pages.page_text import text_of

HERE = Path(__file__).parent
DAY = date(2026, 11, 25)
NOTHING = {"list": {"list": []}}


def read(name: str) -> dict[str, Any]:
    return yaml.safe_load((HERE / name).read_text("utf-8"))


def cases() -> list[Any]:
    found = []
    for path in sorted(HERE.glob("[!_]*.yaml")):
        golden = read(path.name)
        for case in golden["cases"]:
            whole = {
                **case,
                "files": {**golden.get("files", {}), **case.get("files", {})},
                "replies": {**golden.get("replies", NOTHING), **case.get("replies", {})},
            }
            found.append(pytest.param(whole, id=f"{path.stem}:{case['id']}".replace(" ", "-")))
    return found


def handbook(case: dict[str, Any]) -> Handbook:
    """The pages of a case."""
    return make(*parts(case))


def parts(case: dict[str, Any]) -> tuple[Project, PageContext]:
    """The files of a case, and the calculators' replies as it gives them."""
    project = from_texts({**read("_shared.yaml")["files"], **case["files"]}, {}, DAY)
    packed = {"edition": f"{DAY.isoformat()} 0000000", **bundle.contents(project)}
    page_context = PageContext(
        bundle=packed,
        day=DAY,
        # Through JSON, as from calcs.bridge: a page can't change what another is given.
        ask=lambda request: json.loads(json.dumps(case["replies"][request["action"]])),
        visit_record=project.one("visit_record"),
        scenario=project.one("scenario").get("readings", {}),
        calculator_files={stem_of(each.file): each for each in project.of_kind("calculator")},
        provenances=project.one("words")["provenances"],
        hosts=hosts.of(project),
        site_name=case.get("site_name", "A small handbook"),
        emergency_contact=case.get("contact", "0000, the invented service"),
    )
    return project, page_context


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
