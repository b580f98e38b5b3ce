"""The page of a visit: its checks in working order, and whether its readings fit each other."""

from collections.abc import Sequence
from typing import Any

from build_tools.pages import checks, resolve
from build_tools.pages.content_node import ContentNode

RECORD, CARDS = "record/visit.html", "cards/appliance_cards.html"
UNSAFE = "procedures/unsafe_situations.html"
ANSWERS, FIT = "procedures/which_checks_apply.html", "calculators/cross_check.html"


def context(node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of a visit.

    Args:
        node: The page's own file.
        pages: Every page of the handbook; one of them asks the questions and lists the checks.
    """
    asking = [page for page in pages if page["checks"].value]
    found = [checks.context(page) for page in asking]
    return {
        "body": node["body"].htmls(),
        "fit_note": node["fit_note"].html,
        "questions": [each for one in found for each in one["questions"]],
        "checks": [
            {"do": check["do"].html, "link": node.link(f"{page}.html") if page else ""}
            for each in asking
            for check in each["checks"].nodes()
            for page in [check["page"].value]
        ],
        "answers_path": ANSWERS,
        "answers": node.link(ANSWERS),
        "record": node.link(RECORD),
        "paper": node.link(RECORD, "written"),  # below the readings: they are many screens long
        "unsafe": node.link(UNSAFE),
        "cards": node.link(CARDS),
        "fit": node.link(FIT),
        "related": resolve.related(node["related"]),
    }
