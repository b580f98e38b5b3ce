"""Every file has the keys of its kind, each of the right type."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.schema_faults import faults

LOOKS_AT = "each file"


def check(project: Project) -> Iterator[Problem]:
    """Hold each file against the schema of its kind."""
    yield from faults(project)
