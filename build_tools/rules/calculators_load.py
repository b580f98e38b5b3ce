"""calcs can be loaded, so that the other rules can compare with what it declares."""

from collections.abc import Iterator

from build_tools.problems import Problem
from build_tools.project import Project
from build_tools.python_text import nodes_of
from build_tools.rules import Rule


def check(project: Project) -> Iterator[Problem]:
    """Name the file that Python can't read, else say what loading ran into."""
    broken = [file for file, text in project.python.items() if nodes_of(text) is None]
    for file in broken:
        line, message = _where(project.python[file])
        fix = "look at this line and the one above it"
        yield Problem(file, line, 1, "", f"Python can't read this file: {message}.", "", fix)
    if project.calcs_failure and not broken:
        found = f"The calculators can't be loaded: {project.calcs_failure}."
        fix = "run `python -m calcs list` to see where it comes from"
        yield Problem("calcs/engine/registry.py", 1, 1, "", found, "", fix)


def _where(text: str) -> tuple[int, str]:
    try:
        compile(text, "calcs", "exec")
    except SyntaxError as error:
        return error.lineno or 1, error.msg
    return 1, ""


RULE = Rule("calculators-load", "The calculators can be loaded.", check)
