"""A calculator's caution that counts before anything is touched stands above its form."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

# The answer stands thousands of pixels below the stop box of the page, and after the reading.
TOO_LATE = re.compile(
    r"\bbefore (?:you (?:touch|handle|open|turn|loosen|measure|unplug|light|go in)|each sample)\b"
    r"|\bsafe to touch\b",
    re.IGNORECASE,
)


def check(project: Project) -> Iterator[Problem]:
    """Look among the cautions that the page shows with the answer."""
    for caution in project.each("calculator", "cautions", ...):
        if TOO_LATE.search(caution.text):
            yield caution.problem(
                "This counts before anything is touched, and stands beside the answer.",
                "What is under 'before' stands at the top of the page, beside the stop box.",
                "move it to 'before'",
            )
