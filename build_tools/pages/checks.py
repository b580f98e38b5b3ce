"""A procedure that finds out which checks apply: what it asks, and each check with its reason."""

import json
from collections import Counter
from collections.abc import Iterable
from typing import Any

from markupsafe import Markup

from build_tools.pages.content_node import ContentNode
from build_tools.sources.project import stem_of

VISIT = "visit/checks_in_order.html"
YES = "yes"
FEW = 2  # procedures that ask for a reading which is their own


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
        "visit": node.link(VISIT),
    }


def facts(pages: Iterable[ContentNode]) -> dict[str, Any]:
    """The same for the pages of a visit: which checks apply, in which order, and what each reads.

    Args:
        pages: Every page of the handbook.

    Returns:
        checks: In working order: id, name, page, the answers that call for it, and its own
            readings, which few other procedures ask for.
        impossible: Answers that can't all be true.
        unsafe: By step, where an outcome outside it leads before any next check: the page and its
            title, and the labels of the verdicts that mean so where it shows several.
    """
    opened = list(pages)
    asked = {page.path: readings_asked(page) for page in opened}
    often = Counter(name for names in asked.values() for name in names)
    found: dict[str, Any] = {"checks": [], "impossible": [], "unsafe": _unsafe(opened)}
    for node in opened:
        questions = node["questions"]
        found["impossible"] += [
            _answers(each["when"], questions) for each in node["impossible"].nodes()
        ]
        for check in node["checks"].nodes():
            path = f"{check['page'].value}.html" if check["page"].value else ""
            own = [name for name in asked.get(path, ()) if often[name] <= FEW]
            found["checks"].append(
                {
                    "id": check["id"].value,
                    "do": str(check["do"].value),
                    "page": path,
                    "fits": _answers(check["when"], questions),
                    "readings": own,
                }
            )
    return found


def _unsafe(pages: list[ContentNode]) -> dict[str, dict[str, Any]]:
    """The steps whose outcome stops the work, with where it leads. What is not there is noted."""
    at = {page.path: page for page in pages}
    calculators = {
        stem_of(page.path): page["verdicts"] for page in pages if page["kind"].value == "calculator"
    }
    found: dict[str, dict[str, Any]] = {}
    for page in pages:
        stem = stem_of(page.path)
        for step in page["steps"].nodes():
            unsafe = step["outcome"]["unsafe"]
            path = f"{unsafe['page'].value}.html"
            if path not in at:
                continue
            calculator = step["outcome"]["calculator"].value or step["calculator"].value
            labels = [
                str(calculators[calculator][each.value]["label"].value)
                for each in unsafe["verdicts"].nodes()
            ]
            title = str(at[path]["title"].value)
            found[f"{stem}.{step['id'].value}"] = {"page": path, "title": title, "labels": labels}
    return found


def readings_asked(page: ContentNode) -> list[str]:
    """Names of the readings that a procedure asks for, in its steps and in its record.

    One that a step only says may be worth while is not asked for: nothing is missed without it.
    """
    if page["kind"].value != "procedure":
        return []
    steps = [each.value for step in page["steps"].nodes() for each in step["reading"].nodes()]
    lines = [each.value for each in page["record"].nodes()]
    known = page.page_context.visit_record
    return [
        name
        for name in dict.fromkeys([*steps, *lines])
        if name in known and known[name].get("optional") != YES
    ]


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
    fits = _answers(check["when"], questions)
    return {
        "id": check["id"].value,
        "do": check["do"].html,
        "link": page.link(f"{page.value}.html") if page.value else None,
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
