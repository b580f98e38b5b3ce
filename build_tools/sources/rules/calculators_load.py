"""calcs can be loaded, so that the other rules can compare with what it declares."""

from collections import defaultdict
from collections.abc import Iterator

from build_tools.sources.calculator_spec import Failure
from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project
from build_tools.sources.python_text import nodes_of

LOOKS_AT = "calcs"

ABOVE = "look at this line and the one above it"
# What Python says of a calculator that can't be loaded, and what is to be done then.
FIXES = {
    "ImportError": "name what that file has, or write it there",
    "ModuleNotFoundError": "name a file that is there, or write it",
    "NameError": "import that name, or rename it",
    "ValueError": "declare it as that says",
    "TypeError": "look at this line and at the signature of what it calls",
}
IS_CAUSE = True


def check(project: Project) -> Iterator[Problem]:
    """Name the files that Python can't read, then each place where loading breaks off."""
    yield from project.undecoded
    broken = {problem.file for problem in project.undecoded}
    for file, text in project.python.items():
        if nodes_of(text) is None:
            broken.add(file)
            yield _unreadable(file, text)
    places: dict[tuple[str, int, str], list[Failure]] = defaultdict(list)
    for failure in project.calcs_failures:
        if failure.file not in broken:
            places[failure.file, failure.line, failure.message].append(failure)
    for (file, line, message), failures in places.items():
        names = [each.calculator for each in failures if each.calculator]
        what = f"The calculator {listing(names)}" if len(names) == 1 else "Calculators"
        many = f" ({listing(names)})" if len(names) > 1 else ""
        found = f"{what} can't be loaded{many}: {message.rstrip('.')}."
        kind = message.partition(":")[0]
        yield Problem(file, line, 1, "", found, "", FIXES.get(kind, ABOVE))


def _unreadable(file: str, text: str) -> Problem:
    try:
        compile(text, file, "exec")
    except SyntaxError as error:
        line, column, says = error.lineno or 1, max(error.offset or 1, 1), error.msg
    except ValueError as error:  # a character that no program may hold
        line, column, says = 1, 1, str(error)
    else:
        line, column, says = 1, 1, "it is no program"
    return Problem(file, line, column, "", f"Python can't read this file: {says}.", "", ABOVE)
