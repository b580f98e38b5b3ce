"""The glossary explains words that the handbook uses, and no others."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule
from build_tools.sources.terms import any_term


def check(project: Project) -> Iterator[Problem]:
    """Look for each term in the words of every other page."""
    for document in project.of_kind("reference"):
        terms = document.value.get("terms")
        if not isinstance(terms, dict):
            continue
        words = "\n".join(text for other, _, text in project.texts() if other is not document)
        # A page that can't be read may use them all.
        unread = [each.text for each in project.documents.values() if not each.is_whole]
        words = "\n".join([words, *unread])
        # One look finds most. A term that stands only within a longer one is looked for alone.
        seen = {word.lower() for word in any_term(terms).findall(words)} if terms else set()
        for term in terms:
            if term.lower() not in seen and not any_term([term]).search(words):
                found = f"No page uses the term '{term}'."
                fix = "delete it, or write it as the pages do"
                yield document.problem(("terms", term), found, "", fix, key=True)


RULE = Rule("glossary-term-used", "Every term of the glossary is used on a page.", check)
