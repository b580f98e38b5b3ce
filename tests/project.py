"""The project's own files, read once for all tests of a process."""

from __future__ import annotations

import shutil
from functools import cache
from importlib.util import cache_from_source
from pathlib import Path

from build_tools.setup.paths import ROOT
from build_tools.sources.load_project import load
from build_tools.sources.passed import CODE_WITHOUT_FORMULAS, FILE, Passed, code_of
from build_tools.sources.project import Project
from build_tools.sources.read_before import FILE as READ_BEFORE
from build_tools.sources.rule import key_of, parts, rules


@cache
def project() -> Project:
    """All that is read of the tree as it stands. Tests only look at it."""
    return load()


def supposed(code: str = "", without_formulas: str = "") -> Passed:
    """That each file of the tree keeps the rules on it, which `tests/sources/test_check.py` proves.

    So a test of what is laid over them or broken in a copy looks at that.
    """
    passed = Passed((), code, without_formulas)
    suppose_passed(project(), passed)
    return passed


def suppose_passed(project: Project, passed: Passed) -> None:
    """Count all that is looked at in parts as passed, where it is known from elsewhere."""
    for some, _, content in parts(rules(), project):
        if content:
            passed.add(key_of(passed, some, project, content))


def lend(root: Path) -> None:
    """Give a copy of the tree what Python and `check` know of its files by now."""
    for folder in ("build_tools", "calcs"):
        for file in (root / folder).rglob("*.py"):
            made = Path(cache_from_source(str(ROOT / file.relative_to(root))))
            if made.exists():
                copy = Path(cache_from_source(str(file)))
                copy.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(made, copy)
    passed = supposed(code_of(root), code_of(root, CODE_WITHOUT_FORMULAS))
    (root / ".cache").mkdir(exist_ok=True)
    (root / ".cache" / FILE.name).write_text(str(passed), encoding="ascii")
    shutil.copy(READ_BEFORE, root / ".cache")
