"""A diagram says in words what it shows, for readers who can't see it."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule

LEAST_WORDS = 6
EXPECTED = "It says what the drawing shows, for a reader who can't see it."


def check(project: Project) -> Iterator[Problem]:
    """A text alternative is there, and it is more than the title again."""
    for document in project.of_kind("diagram"):
        alt = document.value.get("alt", "")
        if not isinstance(alt, str):
            continue  # the shape says so
        if not alt:
            yield document.problem((), "There is no 'alt'.", EXPECTED, "add 'alt'")
        elif len(alt.split()) < LEAST_WORDS or alt == document.value.get("title"):
            found = f"'{alt}' is too short to stand in for the drawing."
            yield document.problem(("alt",), found, EXPECTED, "name its parts and what they show")


RULE = Rule("diagram-has-alt", "A diagram says in words what it shows.", check)
