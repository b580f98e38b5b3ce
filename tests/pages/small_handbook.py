"""Pages from small files: the cases of the YAML files beside this, and their handbooks."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from build_tools.pages import hosts
from build_tools.pages.handbook import Handbook, make
from build_tools.pages.page_context import PageContext
from build_tools.runtime import bundle
from build_tools.sources.project import Project, stem_of
from tests.project_of_texts import from_texts

HERE = Path(__file__).parent
DAY = date(2026, 11, 25)
NOTHING = {"list": {"list": []}}
READER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # in C where it is there: ten times as fast


def read(name: str) -> dict[str, Any]:
    found: dict[str, Any] = yaml.load((HERE / name).read_text("utf-8"), READER)  # noqa: S506  both are safe
    return found


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
