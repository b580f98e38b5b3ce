"""Every reading that a step or the invented visit names stands in data/visit_record.yaml."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from build_tools.sources.naming import READING, measured, missing
from build_tools.sources.parse_value import measure_in
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule


def check(project: Project) -> Iterator[Problem]:
    """Look up each name; a line of `record` with a space in it is a sentence."""
    for document, key_path, name in _named(project):
        at = partial(document.problem, key_path)
        yield from missing(project, READING, name, at, _wanted(document, key_path, project))


def _wanted(document: Document, key_path: KeyPath, project: Project) -> Any:
    """What the reading must measure: what its invented value or the figure beside it does."""
    if key_path[0] == "readings":
        value = get_path(document.value, *key_path, "value")
        return measure_in(value) if isinstance(value, str) else None
    expect = get_path(document.value, *key_path[:2], "expect") if key_path[0] == "steps" else None
    names = [expect] if isinstance(expect, str) else expect
    kinds = {measured(project, str(each)) for each in names} if isinstance(names, list) else set()
    return kinds.pop() if len(kinds) == 1 else None


def _named(project: Project) -> Iterator[tuple[Document, KeyPath, str]]:
    for document in project.of_kind("procedure"):
        for key_path, text in document.texts():
            in_step = key_path[0] == "steps" and len(key_path) > 2 and key_path[2] == "reading"
            if in_step or (key_path[0] == "record" and " " not in text):
                yield document, key_path, text
    for document in project.of_kind("scenario"):
        readings = document.value.get("readings")
        for name in readings if isinstance(readings, dict) else ():
            yield document, ("readings", name), name


RULE = Rule("unknown-reading", "Every reading stands in data/visit_record.yaml.", check)
