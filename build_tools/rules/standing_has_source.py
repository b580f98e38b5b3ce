"""A value stands as far as its source goes: one that was not seen gives nothing but memory."""

from collections.abc import Iterator
from typing import Any

from build_tools.problems import Problem
from build_tools.project import Project
from build_tools.read_yaml import Document, Way, dig
from build_tools.rules import Rule

NEED_SOURCE = {"published", "secondary", "not-held", "instructions-govern"}
NO_VALUE = {"not-held", "instructions-govern"}
# What data/sources.yaml must say of the source. One of which only parts were read is secondary.
SEEN = {
    "published": {"read", "secondary"},
    "secondary": {"read", "secondary", "library"},
}


def check(project: Project) -> Iterator[Problem]:
    """Look at everything that has a standing."""
    for document in project.of_kind("limits", "gases", "table", "instruments"):
        for way, holder in _standing(document.value, ()):
            yield from _entry(document, way, holder, project)


def _standing(value: Any, way: Way) -> Iterator[tuple[Way, dict[str, Any]]]:
    if isinstance(value, dict):
        if isinstance(value.get("standing"), str):
            yield way, value
        for key, inner in value.items():
            yield from _standing(inner, (*way, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _standing(inner, (*way, number))


def _entry(
    document: Document, way: Way, holder: dict[str, Any], project: Project
) -> Iterator[Problem]:
    standing, has_value = holder["standing"], "value" in holder or "rows" in holder
    place = (*way, "standing")
    if standing in NEED_SOURCE and not isinstance(holder.get("source"), dict):
        found = f"It is '{standing}' and has no source."
        fix = "add 'source', or change the standing to from-memory or common-practice"
        yield document.problem(place, found, "", fix)
    if standing in NO_VALUE and has_value:
        found = f"It is '{standing}' and has a value."
        fix = "delete the value, or give the standing that the value has"
        yield document.problem(place, found, "", fix)
    if standing not in NO_VALUE and not has_value:
        found = f"It is '{standing}' and has no value."
        yield document.problem(
            place, found, "", "add the value, or change the standing to not-held"
        )
    if standing == "invented":
        found, fix = "An invented figure stands only in data/scenario/.", "give its real standing"
        yield document.problem(place, found, "", fix)
    name = dig(holder, "source", "id")
    seen = dig(project.sources, name, "seen") if isinstance(name, str) else None
    if isinstance(seen, str) and seen not in SEEN.get(standing, {seen}):
        found = f"It is '{standing}', and its source '{name}' is '{seen}'."
        fix = "change the standing, or what data/sources.yaml says of the source"
        yield document.problem(place, found, "", fix)


RULE = Rule("standing-has-source", "A value stands as far as its source goes.", check)
