"""A value stands as far as its source goes: one that was not seen gives nothing but memory."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule

NEED_SOURCE = {"published", "secondary", "not-held", "instructions-govern"}
NO_VALUE = {"not-held", "instructions-govern"}
# What data/sources.yaml must say of the source. One of which only parts were read is secondary.
SEEN = {
    "published": {"read", "secondary"},
    "secondary": {"read", "secondary", "library"},
}


def check(project: Project) -> Iterator[Problem]:
    """Look at everything that has a provenance."""
    for document in project.of_kind("limits", "gases", "table", "instruments"):
        for key_path, holder in _provenance(document.value, ()):
            yield from _entry(document, key_path, holder, project)


def _provenance(value: Any, key_path: KeyPath) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    if isinstance(value, dict):
        if isinstance(value.get("provenance"), str):
            yield key_path, value
        for key, inner in value.items():
            yield from _provenance(inner, (*key_path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _provenance(inner, (*key_path, number))


def _entry(
    document: Document, key_path: KeyPath, holder: dict[str, Any], project: Project
) -> Iterator[Problem]:
    provenance, has_value = holder["provenance"], "value" in holder or "rows" in holder
    place = (*key_path, "provenance")
    if provenance in NEED_SOURCE and not isinstance(holder.get("source"), dict):
        found = f"It is '{provenance}' and has no source."
        fix = "add 'source', or change the provenance to from-memory or common-practice"
        yield document.problem(place, found, "", fix)
    if provenance in NO_VALUE and has_value:
        found = f"It is '{provenance}' and has a value."
        fix = "delete the value, or give the provenance that the value has"
        yield document.problem(place, found, "", fix)
    if provenance not in NO_VALUE and not has_value:
        found = f"It is '{provenance}' and has no value."
        yield document.problem(
            place, found, "", "add the value, or change the provenance to not-held"
        )
    if provenance == "invented":
        found, fix = "An invented figure stands only in data/scenario/.", "give its real provenance"
        yield document.problem(place, found, "", fix)
    name = get_path(holder, "source", "id")
    seen = get_path(project.sources, name, "seen") if isinstance(name, str) else None
    if isinstance(seen, str) and seen not in SEEN.get(provenance, {seen}):
        found = f"It is '{provenance}', and its source '{name}' is '{seen}'."
        fix = "change the provenance, or what data/sources.yaml says of the source"
        yield document.problem(place, found, "", fix)


RULE = Rule("provenance-has-source", "A value stands as far as its source goes.", check)
