"""Every YAML file can be read strictly."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

IS_CAUSE = True


def check(project: Project) -> Iterator[Problem]:
    """Pass on what the reader found."""
    for document in project.documents.values():
        yield from document.problems
