"""The page of practice: what it is, and some questions worked as examples."""

from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from build_tools.pages import resolve
from build_tools.pages.content_node import ContentNode

EXAMPLE = "1"  # the seed that the examples are drawn by
SECTIONS = (
    ("session", "A session"),
    ("progress", "How it goes"),
    ("examples", "Worked examples"),
    ("about", "What this is"),
)


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of the page."""
    return {
        **resolve.usual(node, SECTIONS),
        "not_this": node["not_this"].htmls(),
        "topics": node.page_context.questions.get("topics", {}),
        "examples": [shown for each in node["examples"].nodes() if (shown := _example(each))],
        "recap": node.link("revise/recap.html"),
        "mistakes": node.link("revise/common_mistakes.html"),
    }


def _example(node: ContentNode) -> dict[str, Any] | None:
    """One question with its answer, as the engine puts it."""
    questions = node.page_context.questions.get("questions", {})
    if not node.known(node.value, questions, "question"):
        return None
    # Late: the engine is no part of what other pages are made from.
    from calcs.practice import door  # noqa: PLC0415

    door.load_held(node.page_context.questions)
    asked = {"action": "practice", "about": "question", "question": node.value, "seed": EXAMPLE}
    reply = node.page_context.ask(asked)
    shown: dict[str, Any] = reply["practice"]
    answer = shown["worked"]["answer"]
    reads = [{**each, "link": node.link(each["page"])} for each in shown["read"]]
    return {
        **shown,
        **({"drawing": _safe(shown["drawing"])} if "drawing" in shown else {}),
        "items": [each["text"] for each in shown["items"]],
        "answers": [answer] if isinstance(answer, str) else answer,
        "read": reads,
    }


def _safe(drawing: dict[str, str]) -> dict[str, str]:
    """A drawing of the engine, which escapes the words in it, as markup."""
    return {**drawing, "svg": Markup(drawing["svg"])}  # noqa: S704  our own drawing
