"""Programs of the system, for the tests that run them."""

from __future__ import annotations

from build_tools.setup.programs import Program


def path_of(program: Program) -> str:
    """Where it lies. A test that lacks it fails and says how to get it."""
    path = program.find()
    assert path, f"No {program.name}. Fix: install {program.package}, as by apt-get install."
    return path
