"""Every source that is cited stands in data/sources.yaml."""

import ast
from collections.abc import Iterable, Iterator
from functools import partial

from build_tools.sources.naming import SOURCE, missing
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.python_text import calls, nodes_of
from build_tools.sources.rule import Rule

CITING = ("limits", "gases", "table", "instruments", "procedure")


def check(project: Project) -> Iterator[Problem]:
    """Look up each source of a figure, a table, an instrument, a procedure and a formula."""
    for document in project.of_kind(*CITING):
        for key_path, name in document.texts():
            cites = key_path[-1] == "id" and key_path[-2:-1] == ("source",)
            listed = key_path[0] == "sources" and key_path[-1] == "id"
            if cites or listed:
                yield from missing(project, SOURCE, name, partial(document.problem, key_path))
    for file, text in project.python.items():
        nodes = nodes_of(text)
        for node in _cited(nodes) if nodes else ():
            at = partial(Problem, file, node.lineno, node.col_offset + 1, "")
            yield from missing(project, SOURCE, str(node.value), at)


def _cited(nodes: Iterable[ast.AST]) -> Iterator[ast.Constant]:
    """The first text in each `Cite(...)`."""
    for call in calls(nodes, "Cite"):
        first = call.args[0] if call.args else None
        if isinstance(first, ast.Constant):
            yield first


RULE = Rule("unknown-source", "Every source that is cited stands in data/sources.yaml.", check)
