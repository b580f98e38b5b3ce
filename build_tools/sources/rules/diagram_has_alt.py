"""A diagram says in words what it shows, for readers who can't see it."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

LEAST_WORDS = 6
EXPECTED = "It says what the drawing shows, for a reader who can't see it."


def check(project: Project) -> Iterator[Problem]:
    """A text alternative is there, and it is more than the title again."""
    for drawing in project.nodes("diagram"):
        alt = drawing["alt"]
        if not alt.value:
            yield drawing.problem("There is no 'alt'.", EXPECTED, "add 'alt'")
        elif len(alt.text.split()) < LEAST_WORDS or alt.text == drawing["title"].text:
            found = f"'{alt.text}' is too short to stand in for the drawing."
            yield alt.problem(found, EXPECTED, "name its parts and what they show")
