"""The project's own files, read once for all tests of a process."""

from __future__ import annotations

from functools import cache

from build_tools.sources.project import Project, load


@cache
def project() -> Project:
    """All that is read of the tree as it stands. Tests only look at it."""
    return load()
