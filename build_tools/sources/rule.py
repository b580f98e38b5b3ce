"""What a rule for authors is. Each file of `rules/` holds one: a new file is a new rule."""

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from build_tools.sources import rules as rules_folder
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

WITHOUT_ENGINE = ("calculators_load", "known_place", "name_undefined", "readable")


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


def rules(names: Iterable[str] | None = None) -> list[Rule]:
    """Every rule, or those of these files, by name."""
    found = []
    for name in sorted(
        names or (module.name for module in pkgutil.iter_modules(rules_folder.__path__))
    ):
        rule = importlib.import_module(f"{rules_folder.__name__}.{name}").RULE
        if rule.name != name.replace("_", "-"):
            raise ImportError(f"build_tools/sources/rules/{name}.py names its rule {rule.name!r}.")
        found.append(rule)
    return found


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
