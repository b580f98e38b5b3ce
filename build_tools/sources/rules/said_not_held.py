"""Words that say that a figure is not held follow data: they go when it is filled."""

import re
from collections.abc import Iterator
from typing import Any

from build_tools.sources.days import in_force
from build_tools.sources.filled import NOT_HELD
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, rename_fix
from build_tools.sources.project import SHARED_SAYINGS, Project
from build_tools.sources.read_yaml import get_path

SAYS_SO = re.compile(
    r"\bnot held here\b|\bare not held\b|\bdoes not hold (?:that|the|those|its|it)\b", re.IGNORECASE
)
# Shown only where a formula found nothing held, so they follow it by themselves.
FOLLOW = {"not_held", "when_held", "verdicts", *SHARED_SAYINGS}
EXPECTED = "Words that say so name the figures and tables in 'not_held'."


def check(project: Project) -> Iterator[Problem]:
    """Look at the words of calculators, procedures and reference pages."""
    for page in project.nodes("calculator", "procedure", "reference"):
        names = [each for each in page["not_held"].items() if each.text]
        parts = [page[key] for key in page.names if key not in FOLLOW]
        said = [node for part in parts for node in part.texts() if SAYS_SO.search(node.text)]
        if said and not names:
            found, fix = "It says that a figure is not held.", "add 'not_held' with its name"
            yield said[0].problem(found, EXPECTED, fix)
        if names and not said:
            found = "No words here say that a figure is not held."
            yield page["not_held"].problem(found, EXPECTED, "delete 'not_held'")
        for name in names:
            yield from _held(name, project)
        if any(_can_be_filled(name.text, project) for name in names):
            yield from _follows(page, said)


def _can_be_filled(name: str, project: Project) -> bool:
    """Whether a host can fill it in: what an appliance's instructions say, nobody can."""
    values = get_path({**project.figures, **project.tables}, name, "values") or ()
    return any(get_path(each, "provenance") == NOT_HELD for each in values)


def _follows(page: Node, said: list[Node]) -> Iterator[Problem]:
    """Each such sentence is among those that give way once what it is about is held."""
    told = [each["instead_of"] for each in page["when_held"].items()]
    for node in said:
        if not any(each.text and each.text in node.text for each in told):
            found = "It says that a figure is not held, also once a host has filled it in."
            expected = "'when_held' says what stands there then."
            yield node.problem(found, expected, "add its sentence to 'when_held'")
    parts = [page[key] for key in page.names if key != "when_held"]
    texts = [node.text for part in parts for node in part.texts()]
    for each in told:
        if each.text and not any(each.text in text for text in texts):
            found = "No words of this file say that."
            yield each.problem(found, "", "copy the sentence as it stands in the file")


def _held(node: Node, project: Project) -> Iterator[Problem]:
    name, known = node.text, {**project.figures, **project.tables}
    if project.may_hold(name, "limits", "gases") or project.stems("table") & {name} - {*known}:
        return
    if name not in known:
        fix = rename_fix(name, known, f"delete '{name}'")
        yield node.problem(f"There is no figure or table '{name}'.", EXPECTED, fix)
        return
    values = get_path(known[name], "values")
    dated: list[Any] = [each for each in values or () if isinstance(each, dict)]
    dated_value = in_force(dated, project.day)
    if dated_value and ("value" in dated_value or "rows" in dated_value):
        held = f"it is, as '{dated_value.get('provenance')}'"
        fix = f"say it another way, and take '{name}' out of 'not_held'"
        yield node.problem(f"It says that '{name}' is not held, and {held}.", "", fix)
