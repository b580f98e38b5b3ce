"""The page of papers: what each holds, and what a paper can't promise."""

from collections.abc import Sequence
from typing import Any

from build_tools.pages import resolve
from build_tools.pages.content_node import ContentNode

SECTIONS = (
    ("paper", "A paper"),
    ("mixes", "What each paper holds"),
    ("about", "What this is"),
)
# What a platform takes, by the name that `calcs/practice/exports/forms.py` has for it.
FORMS = {
    "moodle": "Moodle XML",
    "qti21": "QTI 2.1, numbers typed",
    "qti21_choices": "QTI 2.1, numbers chosen",
    "qti30": "QTI 3.0, numbers typed",
    "scorm12": "SCORM 1.2",
}
# What the kinds of questions are called in the mix of a paper.
KINDS = {
    "number": "a number",
    "read": "a reading",
    "choose_one": "one choice",
    "choose_all": "all that fit",
    "order": "an order",
    "verdict": "a verdict",
    "wrong_reading": "a wrong reading",
    "what_now": "what now",
    "diagnose": "a diagnosis",
}


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of the page."""
    held = node.page_context.questions
    return {
        **resolve.usual(node, SECTIONS),
        "secret": node["secret"].htmls(),
        "forms": FORMS,
        "results": node.link("practise/results.html"),
        "papers": [_paper(node, name, each) for name, each in held.get("papers", {}).items()],
    }


def _paper(node: ContentNode, name: str, paper: dict[str, Any]) -> dict[str, Any]:
    titles = node.page_context.questions["topics"]
    parts = [_part(each, titles) for each in paper["mix"]]
    return {
        "id": name,
        "title": paper["title"],
        "about": paper["about"],
        "minutes": paper["minutes"],
        "percent": paper["pass"]["percent"],
        "no_unsafe": paper["pass"].get("no_unsafe") == "yes",
        "questions": sum(int(each["questions"]) for each in paper["mix"]),
        "parts": parts,
    }


def _part(part: dict[str, Any], titles: dict[str, str]) -> dict[str, Any]:
    """What a part holds. A procedure and a calculator may have one title: it is said once."""
    named = dict.fromkeys(titles.get(topic, topic) for topic in part["topics"])
    least = [f"{count} × {KINDS[kind]}" for kind, count in part.get("at_least", {}).items()]
    return {"count": part["questions"], "topics": list(named), "least": least}
