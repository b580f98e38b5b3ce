"""The table of a procedure that finds out which checks apply: each with its answers and reason."""

from typing import Any

from markupsafe import Markup

from build_tools.pages.part import Part


def rows(part: Part) -> list[dict[str, Any]]:
    """Each check, with a link to its page and the answers that call for it, in words."""
    return [_row(check, part["questions"]) for check in part["checks"].parts()]


def _row(check: Part, questions: Part) -> dict[str, Any]:
    page = check["page"]
    has_page = page.value is not None and page.known(page.value, page.shelf.pages, "page")
    return {
        "id": check["id"].value,
        "do": check["do"].text(),
        "link": page.link(f"{page.value}.html") if has_page else None,
        "when": _when(check["when"], questions),
        "why": check["why"].text(),
        "law": check["law"].text(),
    }


def _when(when: Part, questions: Part) -> list[tuple[Markup, list[Markup]]]:
    """Each question that the check depends on, with the answers that call for it."""
    asked = []
    for name in when.value or {}:
        if not when[name].known(name, questions.value or {}, "question"):
            continue
        options = questions[name]["options"]
        answers = [
            options[each.value].text()
            for each in when[name].parts()
            if each.known(each.value, options.value or {}, "answer")
        ]
        asked.append((questions[name]["label"].text(), answers))
    return asked
