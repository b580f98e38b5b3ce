"""The rules for authors, one in each file of this folder. A new file is a new rule."""

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from build_tools.problems import Problem
from build_tools.project import Project


@dataclass(frozen=True)
class Rule:
    """One thing that must hold of the files.

    Args:
        name: The name of its file, with hyphens.
        description: What must hold, in one line.
        check: Finds every place where it does not hold.
        is_cause: What it finds may be why other rules find something. It is told first.
    """

    name: str
    description: str
    check: Callable[[Project], Iterator[Problem]]
    is_cause: bool = False


def rules() -> list[Rule]:
    """Every rule, by name."""
    found = []
    for module in sorted(pkgutil.iter_modules(__path__), key=lambda module: module.name):
        rule = importlib.import_module(f"{__name__}.{module.name}").RULE
        if rule.name != module.name.replace("_", "-"):
            raise ImportError(f"build_tools/rules/{module.name}.py names its rule {rule.name!r}.")
        found.append(rule)
    return found


def check_all(project: Project) -> list[Problem]:
    """What every rule finds. A file that can't be read is reported, and counts as there."""
    return [
        replace(problem, is_cause=rule.is_cause)
        for rule in rules()
        for problem in rule.check(project)
    ]
