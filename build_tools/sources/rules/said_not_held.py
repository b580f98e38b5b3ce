"""Words that say that a figure is not held follow data: they go when it is filled."""

import re
from collections.abc import Iterator
from typing import Any

from build_tools.sources.days import in_force
from build_tools.sources.problems import Problem, nearest
from build_tools.sources.project import SHARED_SAYINGS, Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule

SAYS_SO = re.compile(
    r"\bnot held here\b|\bare not held\b|\bdoes not hold (?:that|the|those|its|it)\b", re.IGNORECASE
)
# Shown only where a formula found nothing held, so they follow it by themselves.
FOLLOW = {"verdicts", *SHARED_SAYINGS}
EXPECTED = "Words that say so name the figures and tables in 'not_held'."


def check(project: Project) -> Iterator[Problem]:
    """Look at the words of calculators, procedures and reference pages."""
    for document in project.of_kind("calculator", "procedure", "reference"):
        named = document.value.get("not_held")
        names = [each for each in named if isinstance(each, str)] if isinstance(named, list) else []
        said = [
            key_path
            for key_path, text in document.texts()
            if key_path[0] not in FOLLOW and _says(key_path, text)
        ]
        if said and not names:
            found, fix = "It says that a figure is not held.", "add 'not_held' with its name"
            yield document.problem(said[0], found, EXPECTED, fix)
        if names and not said:
            found = "No words here say that a figure is not held."
            yield document.problem(("not_held",), found, EXPECTED, "delete 'not_held'")
        for number, name in enumerate(names):
            yield from _held(document, ("not_held", number), name, project)


def _says(key_path: KeyPath, text: str) -> bool:
    return key_path[0] != "not_held" and SAYS_SO.search(text) is not None


def _held(document: Document, key_path: KeyPath, name: str, project: Project) -> Iterator[Problem]:
    known = {**project.figures, **project.tables}
    if project.may_hold(name, "limits", "gases") or project.stems("table") & {name} - {*known}:
        return
    if name not in known:
        close = nearest(name, known)
        fix = f"rename it to '{close}'" if close else f"delete '{name}'"
        yield document.problem(key_path, f"There is no figure or table '{name}'.", EXPECTED, fix)
        return
    values = get_path(known[name], "values")
    dated: list[Any] = [each for each in values or () if isinstance(each, dict)]
    dated_value = in_force(dated, project.day)
    if dated_value and ("value" in dated_value or "rows" in dated_value):
        found = (
            f"It says that '{name}' is not held, and it is, as '{dated_value.get('provenance')}'."
        )
        fix = f"say it another way, and take '{name}' out of 'not_held'"
        yield document.problem(key_path, found, "", fix)


RULE = Rule(
    "said-not-held", "Words that say that a figure is not held name it, and it isn't.", check
)
