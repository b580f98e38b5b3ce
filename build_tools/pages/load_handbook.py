"""Gathers what the pages of this project are made from."""

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from build_tools.pages import hosts
from build_tools.pages.page_context import Ask, PageContext
from build_tools.runtime import bundle as bundles
from build_tools.runtime import practice_pack
from build_tools.setup.paths import ROOT
from build_tools.sources.days import build_day
from build_tools.sources.edition import edition
from build_tools.sources.host import settings
from build_tools.sources.load_project import load
from build_tools.sources.overlays import Overlay
from build_tools.sources.problems import ProblemsFound
from build_tools.sources.project import Project, stem_of
from build_tools.sources.reading_ranges import counted, from_registry, gauge_steps, ranges
from build_tools.sources.rule import check_all
from calcs import bridge


def gathered(
    root: Path = ROOT,
    day: date | None = None,
    *,
    is_checked: bool = True,
    layers: Sequence[Overlay] = (),
) -> tuple[Project, PageContext]:
    """What `handbook.make` makes the pages from, once the rules were asked.

    Args:
        root: Folder of the project.
        day: The day of the edition; that of the build where none is given.
        is_checked: Whether the rules are asked.
        layers: Overlays that lie over the project, the lowest first.

    Raises:
        ProblemsFound: A file breaks a rule.
    """
    project = load(root, layers)
    if is_checked and (problems := check_all(project)):
        raise ProblemsFound(problems)
    return project, context_of(project, root, day)


def context_of(
    project: Project,
    root: Path = ROOT,
    day: date | None = None,
    asking: Callable[[Mapping[str, Any]], Ask] | None = None,
) -> PageContext:
    """What the pages of a project that keeps the rules look things up from.

    Args:
        project: All files.
        root: Folder of the project.
        day: The day of the edition; that of the build where none is given.
        asking: Gives what asks the calculators over a bundle.
    """
    day = day or build_day()
    host = settings(root, project.overlays)
    made = {
        "edition": edition(day, root, project.overlays),
        **bundles.contents(project),
    }
    return PageContext(
        bundle=made,
        day=day,
        ask=(asking or _asking)(made),
        visit_record=project.one("visit_record"),
        scenario=project.one("scenario").get("readings", {}),
        scenario_forms=project.one("scenario").get("forms", {}),
        invented_card=project.one("invented_card"),
        calculator_files={stem_of(each.file): each for each in project.of_kind("calculator")},
        diagrams={stem_of(each.file): each.value for each in project.of_kind("diagram")},
        provenances=project.one("words").get("provenances", {}),
        ranges=ranges(project, from_registry),
        gauge_steps=gauge_steps(project, from_registry),
        counted=counted(project, from_registry),
        check_pages=_check_pages(project),
        questions=practice_pack.make(project, practice_pack.day_of(made)),
        site_name=host.site_name,
        emergency_contact=host.emergency_contact,
        hosts=hosts.of(project),
    )


def _check_pages(project: Project) -> frozenset[str]:
    """The pages that a visit may be led to, as `procedures/gas_rate`."""
    return frozenset(
        str(check["page"])
        for document in project.of_kind("procedure")
        for check in document.value.get("checks", [])
        if check.get("page")
    )


def _asking(bundle: Mapping[str, Any]) -> Ask:
    """Asks the calculators' bridge, through the same JSON text that the browser uses.

    Several pages hold one calculator with one example: each request is worked out once.
    """
    bridge.load(json.dumps(bundle, ensure_ascii=False))
    answer = cache(bridge.answer)

    def ask(request: dict[str, Any]) -> dict[str, Any]:
        reply: dict[str, Any] = json.loads(answer(json.dumps(request)))
        return reply

    return ask
