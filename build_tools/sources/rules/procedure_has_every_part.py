"""A procedure has every part that keeps its reader safe."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

PARTS = {
    "purpose": "what the job is for",
    "who": "who may do it",
    "applies_to": "what it applies to",
    "does_not_apply_to": "what it does not apply to",
    "instruments": "what to bring",
    "cautions": "what can hurt",
    "stop": "when to stop",
    "steps": "what to do",
    "finish": "what to put back",
    "record": "what to write down",
    "sources": "where it comes from",
}


def check(project: Project) -> Iterator[Problem]:
    """Look for each part, and for two steps with one id."""
    for page in project.nodes("procedure"):
        for part, says in PARTS.items():
            if part not in page.value:
                found = f"There is no '{part}'. It says {says}."
                yield page.problem(found, "", f"add '{part}'")
        seen: set[str] = set()
        for name in page.each("steps", ..., "id"):
            if name.text in seen:
                found, fix = f"Another step has the id '{name.text}'.", "give each step its own id"
                yield name.problem(found, "", fix)
            seen.update({name.text} - {""})
