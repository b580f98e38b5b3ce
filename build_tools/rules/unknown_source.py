"""Every source that is cited stands in data/sources.yaml."""

import ast
from collections.abc import Iterable, Iterator

from build_tools.problems import Problem, nearest
from build_tools.project import Project
from build_tools.python_text import calls, nodes_of
from build_tools.rules import Rule

CITING = ("limits", "gases", "table", "instruments", "procedure")
EXPECTED = "Sources stand in data/sources.yaml."


def check(project: Project) -> Iterator[Problem]:
    """Look up each source of a record, a table, an instrument, a procedure and a formula."""
    for document in project.of_kind(*CITING):
        for way, name in document.texts():
            cites = way[-1] == "id" and way[-2:-1] == ("source",)
            listed = way[0] == "sources" and way[-1] == "id"
            if (cites or listed) and name not in project.sources:
                found = f"There is no source '{name}'."
                yield document.problem(way, found, EXPECTED, _fix(name, project))
    for file, text in project.python.items():
        nodes = nodes_of(text)
        for node in _cited(nodes) if nodes else ():
            if node.value not in project.sources:
                line, column = node.lineno, node.col_offset + 1
                found = f"There is no source '{node.value}'."
                fix = _fix(str(node.value), project)
                yield Problem(file, line, column, "", found, EXPECTED, fix)


def _fix(name: str, project: Project) -> str:
    close = nearest(name, project.sources)
    return f"rename it to '{close}'" if close else f"add '{name}' to data/sources.yaml"


def _cited(nodes: Iterable[ast.AST]) -> Iterator[ast.Constant]:
    """The first text in each `Cite(...)`."""
    for call in calls(nodes, "Cite"):
        first = call.args[0] if call.args else None
        if isinstance(first, ast.Constant):
            yield first


RULE = Rule("unknown-source", "Every source that is cited stands in data/sources.yaml.", check)
