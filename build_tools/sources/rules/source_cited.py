"""Every source is cited somewhere, and none is called by a person's name."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule

PERSON = re.compile(r"\b[A-Z]\. ?(?:[A-Z]\. ?)*[A-Z][a-z]+|\bet al\b")  # I. Nitials


def check(project: Project) -> Iterator[Problem]:
    """Look for each source in the other files, and for names in what is said of sources."""
    for document in project.of_kind("sources"):
        for name in document.value:
            elsewhere = set(project.naming(name)) - {document.file}
            if not elsewhere and not project.undecoded:
                found = f"Nothing cites '{name}'."
                fix = "cite it where it is used, or delete it"
                yield document.problem((name,), found, "", fix, key=True)
    for document in project.of_kind("sources", "proof"):
        for key_path, text in document.texts():
            if found_name := PERSON.search(text):
                found = f"'{found_name[0]}' looks like a person's name."
                yield document.problem(
                    key_path, found, "", "name the document and its publisher alone"
                )


RULE = Rule("source-cited", "Every source is cited somewhere, and by no person's name.", check)
