"""What a rule for authors is. Each file of `rules/` is one: a new file is a new rule.

Its first line says what must hold, and its `check` finds where it does not.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from importlib import import_module
from pkgutil import iter_modules
from typing import NamedTuple

from build_tools.sources import rules as rules_folder
from build_tools.sources.passed import (
    Passed,
    alone,
    calcs_of,
    hash_of_markdown,
    kinds_of,
    markdown_of,
    without_markdown,
)
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

FOLDER = rules_folder.__path__
WITHOUT_ENGINE = ("calculators_load", "known_place", "name_undefined", "readable")
# What a rule looks at: all files together, each file alone, calcs alone, a host's pages in Markdown
# with their pictures, or these kinds of file.
ALL, EACH_FILE, CALCS, MARKDOWN = "all files", "each file", "calcs", "Markdown"


class Rule(NamedTuple):
    """One thing that must hold of the files.

    Args:
        name: The name of its file, with hyphens.
        description: What must hold: the first line of that file.
        check: Finds every place where it does not hold.
        is_cause: What it finds may be why other rules find something. It is told first.
        looks_at: All files together, each file alone, calcs alone, or these kinds of file.
    """

    name: str
    description: str
    check: Callable[[Project], Iterator[Problem]]
    is_cause: bool
    looks_at: str | tuple[str, ...] = ALL

    def found_in(self, project: Project) -> Iterator[Problem]:
        """What it finds, with its name."""
        for problem in self.check(project):
            yield replace(problem, is_cause=self.is_cause, rule=self.name)


def rules(names: Iterable[str] | None = None) -> list[Rule]:
    """Every rule, or those of these files, by name."""
    return [_rule(name) for name in sorted(names or (each.name for each in iter_modules(FOLDER)))]


def _rule(name: str) -> Rule:
    module = import_module(f"{rules_folder.__name__}.{name}")
    description = str(module.__doc__).partition("\n")[0]
    is_cause = getattr(module, "IS_CAUSE", False)
    looks_at = getattr(module, "LOOKS_AT", ALL)
    return Rule(name.replace("_", "-"), description, module.check, is_cause, looks_at)


def check_all(project: Project, passed: Passed | None = None) -> list[Problem]:
    """What every rule finds. A file that can't be read is reported, and counts as there.

    While the engine of calcs can't be loaded, the rules that lean on it can't be asked.

    Args:
        project: All files.
        passed: What passed before, which is not looked at again.
    """
    return _found(rules(WITHOUT_ENGINE if project.has_no_engine else None), project, passed)


def check_markdown(project: Project, passed: Passed | None = None) -> list[Problem]:
    """What the rules find of pages in Markdown, where all other files kept every rule.

    No rule that looks at more than one file sees these pages.
    """
    of_files = [each for each in rules() if each.looks_at in {EACH_FILE, MARKDOWN}]
    return _found(of_files, markdown_of(project), passed)


def _found(asked: Sequence[Rule], project: Project, passed: Passed | None) -> list[Problem]:
    passed = passed or Passed()
    found: list[Problem] = []
    for some, part, content in parts(asked, project):
        key = key_of(passed, some, project, content)
        if content and passed.holds(key):
            continue
        told = [problem for rule in some for problem in rule.found_in(part)]
        if content and not told:
            passed.add(key)
        found += told
    return found


def key_of(passed: Passed, some: Sequence[Rule], project: Project, content: str) -> str:
    """The hash of what some rules look at. Files of words and numbers alone ask no formula."""
    sight = some[0].looks_at
    is_of_words = sight in {EACH_FILE, MARKDOWN} or isinstance(sight, tuple)
    names = [rule.name for rule in some]
    return passed.key(*names, str(project.day), content, asks_formulas=not is_of_words)


Part = tuple[list[Rule], Project, str]  # rules, all that they look at, and the hash of that


def parts(asked: Sequence[Rule], project: Project) -> Iterator[Part]:
    """What the rules look at. Without a hash it is looked at each time."""
    by_sight: dict[str | tuple[str, ...], list[Rule]] = {}
    for rule in asked:
        by_sight.setdefault(rule.looks_at, []).append(rule)
    for sight, some in by_sight.items():
        if sight == EACH_FILE:
            yield from ((some, one, content) for content, one in alone(project))
        elif sight == CALCS and not (project.undecoded or project.calcs_failures):
            yield some, *calcs_of(project)
        elif sight == MARKDOWN:
            yield some, markdown_of(project), hash_of_markdown(project)
        elif isinstance(sight, tuple):
            yield some, *kinds_of(project, sight)
        else:
            yield some, without_markdown(project), ""
