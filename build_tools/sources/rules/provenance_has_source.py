"""A value stands as far as its source goes: one that was not seen gives nothing but memory."""

from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import get_path

NEED_SOURCE = {"published", "secondary", "not-held", "instructions-govern"}
NO_VALUE = {"not-held", "instructions-govern"}
# What data/sources.yaml must say of the source. One of which only parts were read is secondary.
SEEN = {
    "published": {"read", "secondary"},
    "secondary": {"read", "secondary", "library"},
}


def check(project: Project) -> Iterator[Problem]:
    """Look at everything that has a provenance."""
    for whole in project.nodes("limits", "gases", "table", "instruments"):
        for node in whole.below():
            if node["provenance"].text:
                yield from _faults(node, node["provenance"], project)


def _faults(holder: Node, provenance: Node, project: Project) -> Iterator[Problem]:
    said, has_value = provenance.text, "value" in holder.value or "rows" in holder.value
    is_to_have = said not in NO_VALUE
    if said in NEED_SOURCE and not holder["source"].names:
        fix = "add 'source', or change the provenance to from-memory or common-practice"
        yield provenance.problem(f"It is '{said}' and has no source.", "", fix)
    if has_value and not is_to_have:
        fix = "delete the value, or give the provenance that the value has"
        yield provenance.problem(f"It is '{said}' and has a value.", "", fix)
    if is_to_have and not has_value:
        fix = "add the value, or change the provenance to not-held"
        yield provenance.problem(f"It is '{said}' and has no value.", "", fix)
    if said == "invented":
        found, fix = "An invented figure stands only in data/scenario/.", "give its real provenance"
        yield provenance.problem(found, "", fix)
    name = holder["source"]["id"].text
    seen = get_path(project.sources, name, "seen")
    if isinstance(seen, str) and seen not in SEEN.get(said, {seen}):
        found = f"It is '{said}', and its source '{name}' is '{seen}'."
        fix = "change the provenance, or what data/sources.yaml says of the source"
        yield provenance.problem(found, "", fix)
