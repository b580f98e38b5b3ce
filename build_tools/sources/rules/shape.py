"""Every file has the keys of its kind, each of the right type."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule
from build_tools.sources.schemas.by_kind import document_errors


def check(project: Project) -> Iterator[Problem]:
    """Hold each file against the schema of its kind."""
    for document in project.documents.values():
        yield from document_errors(document)


RULE = Rule("shape", "Every file has the keys of its kind, each of the right type.", check)
