"""A drawing of a valve says under it that valves differ: someone turns a screw by it."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

VALVE = "_valve"  # how the name of such a drawing ends
EXPECTED = "The drawing is nobody's valve. A reader who sees it must be told so, beside it."


def check(project: Project) -> Iterator[Problem]:
    """The caption is there and names the instructions."""
    for drawing in project.nodes("diagram"):
        caption = drawing["caption"].text
        is_said = "differ" in caption and "instructions" in caption
        if drawing["draw"].text.endswith(VALVE) and not is_said:
            found = "No 'caption' says that valves differ and that the instructions show theirs."
            yield drawing.problem(found, EXPECTED, "add 'caption' in such words")
