"""Every source is cited somewhere, and none is called by a person's name."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

PERSON = re.compile(r"\b[A-Z]\. ?(?:[A-Z]\. ?)*[A-Z][a-z]+|\bet al\b")  # I. Nitials


def check(project: Project) -> Iterator[Problem]:
    """Look for each source in the other files, and for names in what is said of sources."""
    for source in project.each("sources", ...):
        if not project.stands_elsewhere(source.key, source.document.file) and not project.undecoded:
            fix = "cite it where it is used, or delete it"
            yield source.problem(f"Nothing cites '{source.key}'.", "", fix, key=True)
    for whole in project.nodes("sources", "proof"):
        for node in whole.texts():
            if name := PERSON.search(node.text):
                found = f"'{name[0]}' looks like a person's name."
                yield node.problem(found, "", "name the document and its publisher alone")
