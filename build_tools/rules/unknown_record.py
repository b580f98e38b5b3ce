"""Every record that a step, a diagram or a formula names is there."""

from collections.abc import Iterator

from build_tools.problems import Problem, nearest
from build_tools.project import Project
from build_tools.python_text import matching, nodes_of, record_names
from build_tools.read_yaml import Document, Way
from build_tools.rules import Rule

MANY = "Records stand in data/limits/ and data/gases.yaml."


def check(project: Project) -> Iterator[Problem]:
    """Look up each name in the procedures, the reference pages and the formulas."""
    for document in project.of_kind("procedure", "reference"):
        for way, name in named_in_page(document):
            if name not in project.records:
                close = nearest(name, project.records)
                fix = f"rename it to '{close}'" if close else f"add the record '{name}'"
                yield document.problem(way, f"There is no record '{name}'.", MANY, fix)
    known = [*project.records, *project.tables]
    for file, text in project.python.items():
        nodes = nodes_of(text) if file.startswith("calcs/calculators/") else None
        for found in record_names(nodes) if nodes else ():
            if not any(
                found.text == name or matching(found.text).fullmatch(name) for name in known
            ):
                close = nearest(found.text, known)
                fix = f"rename it to '{close}'" if close else f"add the record '{found.text}'"
                message = f"There is no record '{found.text}'."
                yield Problem(file, found.line, found.column, "", message, MANY, fix)


def named_in_page(document: Document) -> Iterator[tuple[Way, str]]:
    """Records that the steps of a procedure expect or time by, and those that a section lists."""
    for way, text in document.texts():
        in_step = way[0] == "steps" and len(way) > 2 and way[2] in {"expect", "timer"}
        in_section = way[0] == "sections" and len(way) > 2 and way[2] == "limits"
        if in_step or in_section:
            yield way, text


RULE = Rule("unknown-record", "Every record that is named is there.", check)
