"""The glossary explains words that the handbook uses, and no others."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.terms import any_term


def check(project: Project) -> Iterator[Problem]:
    """Look for each term in the words of every other page."""
    for terms in project.each("reference", "terms"):
        others = [each.text for each in project.words if each.document is not terms.document]
        # A page that can't be read may use them all.
        unread = [each.text for each in project.documents.values() if not each.is_whole]
        words = "\n".join([*others, *unread])
        # One look finds most. A term that stands only within a longer one is looked for alone.
        names = terms.names
        seen = {word.lower() for word in any_term(names).findall(words)} if names else set()
        for term in names:
            if term.lower() not in seen and not any_term([term]).search(words):
                fix = "delete it, or write it as the pages do"
                yield terms[term].problem(f"No page uses the term '{term}'.", "", fix, key=True)
