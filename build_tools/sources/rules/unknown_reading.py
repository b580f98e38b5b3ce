"""Every reading that a step or the invented visit names stands in data/visit_record.yaml."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from build_tools.sources.naming import READING, measured, missing
from build_tools.sources.parse_value import measure_in
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, Way, dig
from build_tools.sources.rule import Rule


def check(project: Project) -> Iterator[Problem]:
    """Look up each name; a line of `record` with a space in it is a sentence."""
    for document, way, name in _named(project):
        at = partial(document.problem, way)
        yield from missing(project, READING, name, at, _wanted(document, way, project))


def _wanted(document: Document, way: Way, project: Project) -> Any:
    """What the reading must measure: what its invented value or the figure beside it does."""
    if way[0] == "readings":
        value = dig(document.value, *way, "value")
        return measure_in(value) if isinstance(value, str) else None
    expect = dig(document.value, *way[:2], "expect") if way[0] == "steps" else None
    names = [expect] if isinstance(expect, str) else expect
    kinds = {measured(project, str(each)) for each in names} if isinstance(names, list) else set()
    return kinds.pop() if len(kinds) == 1 else None


def _named(project: Project) -> Iterator[tuple[Document, Way, str]]:
    for document in project.of_kind("procedure"):
        for way, text in document.texts():
            in_step = way[0] == "steps" and len(way) > 2 and way[2] == "reading"
            if in_step or (way[0] == "record" and " " not in text):
                yield document, way, text
    for document in project.of_kind("scenario"):
        readings = document.value.get("readings")
        for name in readings if isinstance(readings, dict) else ():
            yield document, ("readings", name), name


RULE = Rule("unknown-reading", "Every reading stands in data/visit_record.yaml.", check)
