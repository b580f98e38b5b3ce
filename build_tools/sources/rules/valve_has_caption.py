"""A drawing of a valve says under it that valves differ: someone turns a screw by it."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule

VALVE = "_valve"  # how the name of such a drawing ends
EXPECTED = "The drawing is nobody's valve. A reader who sees it must be told so, beside it."


def check(project: Project) -> Iterator[Problem]:
    """The caption is there and names the instructions."""
    for document in project.of_kind("diagram"):
        if not str(document.value.get("draw", "")).endswith(VALVE):
            continue
        caption = str(document.value.get("caption") or "")
        if "differ" not in caption or "instructions" not in caption:
            found = "No 'caption' says that valves differ and that the instructions show theirs."
            yield document.problem((), found, EXPECTED, "add 'caption' in such words")


RULE = Rule("valve-has-caption", "A drawing of a valve says under it that valves differ.", check)
