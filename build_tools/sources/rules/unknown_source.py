"""Every source that is cited stands in data/sources.yaml."""

import ast
from collections.abc import Iterator
from functools import partial

from build_tools.sources.naming import SOURCE, missing
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.python_text import calls, nodes_of


def check(project: Project) -> Iterator[Problem]:
    """Look up each source of a figure, a table, an instrument, a procedure and a formula."""
    for node in project.named("source"):
        yield from missing(project, SOURCE, node.text, node.problem)
    for file, text in project.python.items():
        for call in calls(nodes_of(text) or (), "Cite") if "Cite(" in text else ():
            first = call.args[0] if call.args else None
            if isinstance(first, ast.Constant):
                at = partial(Problem, file, first.lineno, first.col_offset + 1, "")
                yield from missing(project, SOURCE, str(first.value), at)
