"""A procedure has every part that keeps its reader safe."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule

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
    for document in project.of_kind("procedure"):
        for part, says in PARTS.items():
            if part not in document.value:
                found = f"There is no '{part}'. It says {says}."
                yield document.problem((), found, "", f"add '{part}'")
        steps = document.value.get("steps")
        seen: set[str] = set()
        for number, step in enumerate(steps if isinstance(steps, list) else ()):
            name = step.get("id") if isinstance(step, dict) else None
            if isinstance(name, str) and name in seen:
                found, fix = f"Another step has the id '{name}'.", "give each step its own id"
                yield document.problem(("steps", number, "id"), found, "", fix)
            seen.add(str(name))


RULE = Rule("procedure-has-every-part", "A procedure has every part it needs.", check)
