"""Every YAML file can be read strictly."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule


def check(project: Project) -> Iterator[Problem]:
    """Pass on what the reader found."""
    for document in project.documents.values():
        yield from document.problems


RULE = Rule("readable", "Every YAML file can be read strictly.", check, is_cause=True)
