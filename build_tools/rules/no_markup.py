"""No text holds HTML: a page would show its tags as they are typed."""

import re
from collections.abc import Iterator

from build_tools.problems import Problem
from build_tools.project import Project
from build_tools.rules import Rule

TAG = re.compile(r"</?[a-zA-Z][^<>]*>|<!--")


def check(project: Project) -> Iterator[Problem]:
    """Look for a tag in every text. Each is escaped on its way into a page, so none can run."""
    for document in project.documents.values():
        for way, text in document.texts():
            for tag in TAG.findall(text):
                found = f"'{tag}' is HTML, and a page would show it as it stands."
                yield document.problem(way, found, "", "write the words alone")


RULE = Rule("no-markup", "No text holds HTML.", check)
