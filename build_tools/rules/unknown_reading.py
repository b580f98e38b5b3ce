"""Every reading that a step or the invented visit names stands in data/visit_record.yaml."""

from collections.abc import Iterator

from build_tools.problems import Problem, nearest
from build_tools.project import Project
from build_tools.read_yaml import Document, Way
from build_tools.rules import Rule

EXPECTED = "Readings stand in data/visit_record.yaml."


def check(project: Project) -> Iterator[Problem]:
    """Look up each name; a line of `record` with a space in it is a sentence."""
    known = project.one("visit_record")
    for document, way, name in _named(project):
        if name not in known:
            close = nearest(name, known)
            fix = f"rename it to '{close}'" if close else f"add '{name}' to data/visit_record.yaml"
            yield document.problem(way, f"There is no reading '{name}'.", EXPECTED, fix)


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
