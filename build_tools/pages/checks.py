"""A procedure that finds out which checks apply: what it asks, and each check with its reason."""

import json
from typing import Any

from markupsafe import Markup

from build_tools.pages.content_node import ContentNode


def context(node: ContentNode) -> dict[str, Any]:
    """The questions of the form, the answers that can't be, and the lines of the table."""
    questions = node["questions"]
    return {
        "questions": [_question(questions[name], name) for name in questions.value or {}],
        "impossible": [
            {"when": json.dumps(_answers(each["when"], questions)), "why": each["why"].html}
            for each in node["impossible"].nodes()
        ],
        "rows": [_row(check, questions) for check in node["checks"].nodes()],
    }


def _question(question: ContentNode, name: str) -> dict[str, Any]:
    options = question["options"]
    return {
        "name": name,
        "label": question["label"].html,
        "options": [(value, options[value].html) for value in options.value or {}],
    }


def _row(check: ContentNode, questions: ContentNode) -> dict[str, Any]:
    """A check, with a link to its page and the answers that call for it."""
    page = check["page"]
    has_page = page.value is not None and page.known(page.value, page.page_context.pages, "page")
    fits = _answers(check["when"], questions)
    return {
        "id": check["id"].value,
        "do": check["do"].html,
        "link": page.link(f"{page.value}.html") if has_page else None,
        "fits": json.dumps(fits),
        "when": [_in_words(questions[name], values) for name, values in fits.items()],
        "why": check["why"].html,
        "law": check["law"].html,
    }


def _answers(when: ContentNode, questions: ContentNode) -> dict[str, list[str]]:
    """Each question named, with the answers named. What does not exist is noted and left out."""
    found = {}
    for name in when.value or {}:
        if when[name].known(name, questions.value or {}, "question"):
            options = questions[name]["options"].value or {}
            named = when[name].nodes()
            found[name] = [
                each.value for each in named if each.known(each.value, options, "answer")
            ]
    return found


def _in_words(question: ContentNode, values: list[str]) -> tuple[Markup, list[Markup]]:
    return question["label"].html, [question["options"][value].html for value in values]
