"""Every file has the keys of its kind, each of the right type."""

from collections.abc import Iterator

from build_tools.problems import Problem
from build_tools.project import Project, kind_of
from build_tools.rules import Rule
from build_tools.shapes import SHAPES, check_shape


def check(project: Project) -> Iterator[Problem]:
    """Hold each file against the shape of its kind."""
    for file, document in project.documents.items():
        kind = kind_of(file)
        if kind is not None and document.value is not None:
            yield from check_shape(document, SHAPES[kind])


RULE = Rule("shape", "Every file has the keys of its kind, each of the right type.", check)
