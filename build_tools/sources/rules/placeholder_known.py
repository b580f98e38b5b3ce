"""Every `{figure.name}` in the words is a figure; a calculator's own values stand without a dot."""

import re
from collections.abc import Iterator
from dataclasses import replace

from build_tools.sources.naming import FIGURE, missing
from build_tools.sources.problems import Problem
from build_tools.sources.project import SHARED_SAYINGS, Project, kind_of

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
# Filled by the calculator when it answers.
OWN_VALUES = {
    (group,)
    for group in (
        *SHARED_SAYINGS,
        "verdicts",
        "no_uncertainty_reasons",
        "judged",
        "outcomes",
        "own_figures",
    )
}
FIX = "name a figure, or delete the braces"
BRACED = replace(
    FIGURE, expected="A name in braces is a figure of data/, shown as its value in force."
)


def check(project: Project) -> Iterator[Problem]:
    """Look up each name that stands in braces."""
    readings = project.one("scenario").get("readings", {})
    for node in project.words:
        kind = kind_of(node.document.place)
        own = kind in {"calculator", "words"} and node.key_path[:1] in OWN_VALUES
        drawn = readings if kind == "diagram" else ()  # a drawing shows the invented visit too
        if kind == "question":
            drawn = {"say", *node.whole["draw"].names, *node.whole["make"].names}
        for name in PLACEHOLDER.findall(node.text):
            if name in drawn or (own and name.isidentifier()):
                continue
            if kind == "diagram" and project.may_hold(name, "scenario"):
                continue
            if "." in name:
                yield from missing(project, BRACED, name, node.problem)
            else:
                found = f"'{name}' can't be put in here." if name else "The braces are empty."
                yield node.problem(found, BRACED.expected, FIX)
