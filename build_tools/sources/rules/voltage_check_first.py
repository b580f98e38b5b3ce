"""A procedure checks bare metal with a voltage indicator before a hand is on it."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

CHECK = re.compile(r"\bvoltage indicator\b", re.IGNORECASE)
# What a hand does to metal that is joined to the pipework. "Read the meter" touches nothing, and
# which covers and leads are metal no rule can tell.
TOUCH = re.compile(
    r"\bturn\b[^.]*\b(?:emergency control|appliances?|the gas|its gas)\b"
    r"|\b(?:loosen|tighten|push)\b[^.]*\btest points?\b"
    r"|\bshut\b[^.]*\bisolating valves?\b",
    re.IGNORECASE,
)
# A part that begins so is an emergency: gas that escapes does not wait for an instrument, and to
# switch one on may light it.
EMERGENCY = "Now,"
FIX = "put the check with the voltage indicator in front of it, as a step with its stop"


def check(project: Project) -> Iterator[Problem]:
    """Go through the steps of each procedure as far as the check or the first touch of metal."""
    for page in project.nodes("procedure"):
        part = ""
        for step in page["steps"].items():
            part, act = step["part"].text or part, step["do"]
            if CHECK.search(act.text):
                if not step["stop"].value:
                    found = "This check does not say what to do where metal is live."
                    yield step.problem(found, "", "add 'stop' to it")
                break
            if TOUCH.search(act.text) and not part.startswith(EMERGENCY):
                found = "Metal is touched here before it was found not to be live."
                yield act.problem(found, "", FIX)
                break
