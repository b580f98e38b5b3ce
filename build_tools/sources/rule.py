"""What a rule for authors is. Each file of `rules/` is one: a new file is a new rule.

Its first line says what must hold, and its `check` finds where it does not.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from importlib import import_module
from pkgutil import iter_modules
from typing import NamedTuple

from build_tools.sources import rules as rules_folder
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

FOLDER = rules_folder.__path__
WITHOUT_ENGINE = ("calculators_load", "known_place", "name_undefined", "readable")


class Rule(NamedTuple):
    """One thing that must hold of the files.

    Args:
        name: The name of its file, with hyphens.
        description: What must hold: the first line of that file.
        check: Finds every place where it does not hold.
        is_cause: What it finds may be why other rules find something. It is told first.
    """

    name: str
    description: str
    check: Callable[[Project], Iterator[Problem]]
    is_cause: bool


def rules(names: Iterable[str] | None = None) -> list[Rule]:
    """Every rule, or those of these files, by name."""
    return [_rule(name) for name in sorted(names or (each.name for each in iter_modules(FOLDER)))]


def _rule(name: str) -> Rule:
    module = import_module(f"{rules_folder.__name__}.{name}")
    description = str(module.__doc__).partition("\n")[0]
    is_cause = getattr(module, "IS_CAUSE", False)
    return Rule(name.replace("_", "-"), description, module.check, is_cause)


def check_all(project: Project) -> list[Problem]:
    """What every rule finds. A file that can't be read is reported, and counts as there.

    While the engine of calcs can't be loaded, the rules that lean on it can't be asked.
    """
    asked = rules(WITHOUT_ENGINE if project.has_no_engine else None)
    return [
        replace(problem, is_cause=rule.is_cause)
        for rule in asked
        for problem in rule.check(project)
    ]
