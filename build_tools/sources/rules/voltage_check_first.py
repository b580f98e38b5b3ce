"""A procedure checks bare metal with a voltage indicator before a hand is on it."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import get_path
from build_tools.sources.rule import Rule

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
    for document in project.of_kind("procedure"):
        steps = document.value.get("steps")
        part = ""
        for number, step in enumerate(steps if isinstance(steps, list) else ()):
            part = str(get_path(step, "part") or part)
            act = str(get_path(step, "do") or "")
            if CHECK.search(act):
                if not get_path(step, "stop"):
                    found = "This check does not say what to do where metal is live."
                    yield document.problem(("steps", number), found, "", "add 'stop' to it")
                break
            if TOUCH.search(act) and not part.startswith(EMERGENCY):
                found = "Metal is touched here before it was found not to be live."
                yield document.problem(("steps", number, "do"), found, "", FIX)
                break


RULE = Rule(
    "voltage-check-first",
    "Bare metal is checked with a voltage indicator before it is touched.",
    check,
)
