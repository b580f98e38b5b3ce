"""Pages to revise from: each procedure in short, and what goes wrong, from their own words."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from build_tools.pages import procedure, resolve
from build_tools.pages.content_node import ContentNode
from build_tools.sources.page_kinds import step_anchor
from build_tools.sources.practice_texts import items_of
from build_tools.sources.project import stem_of

FIRST_SENTENCE = re.compile(r"(?<=[.:;])\s")
SHORT = 20  # letters of a sentence that tells too little by itself
MANY = 40  # steps, whose parts then stand in the line of the first
LONGEST = 1120  # letters of steps that one screen of a phone has room for
BOUNDS = {"greatest": "at most ", "least": "at least "}
KNOWN = ("published", "secondary")
NOT_HERE = "Look up its figure"
# What makes a step one that judges, times or stops.
DECIDES = ("expect", "timer")


def context(node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of the page.

    Args:
        node: The page's own file.
        pages: Every page of the handbook.
    """
    procedures = [each for each in pages if each["kind"].value == "procedure"]
    sections = SECTIONS[str(node["shows"].value)](node, procedures)
    related = resolve.related(node["related"])
    return {
        "body": node["body"].htmls(),
        "shows": node["shows"].value,
        "sections": sections,
        "practise": node.link(procedure.PRACTISE),
        "related": related,
        "contents": [(each["id"], each["title"]) for each in sections],
    }


def _recaps(node: ContentNode, procedures: Sequence[ContentNode]) -> list[dict[str, Any]]:
    """Each procedure: when to stop, and its steps by their parts."""
    return [
        {
            "id": stem_of(each.path),
            "title": each["title"].html,
            "link": node.link(each.path),
            "stop": (each["stop_short"] if each["stop_short"].value else each["stop"]).htmls()[0],
            "parts": _parts(node, each),
            "is_long": len(each["steps"].nodes()) > MANY,
            "asks": each.path.removesuffix(".html") in _topics(node),
        }
        for each in procedures
        if each["steps"].value
    ]


def _parts(node: ContentNode, page: ContentNode) -> list[dict[str, Any]]:
    """The steps of a procedure under the names of their parts; of a long one those that decide."""
    steps = page["steps"].nodes()
    shown = _fitting(steps)
    parts: list[dict[str, Any]] = [{"title": "", "steps": []}]
    for number, step in enumerate(steps, start=1):
        if step["part"].value:
            parts.append({"title": step["part"].html, "steps": []})
        if step not in shown:
            continue
        limits = list(_limits(step))
        do = node.fill(_first(step))
        own = {"number": number, "do": do, "stops": _stops(step), "limits": limits}
        parts[-1]["steps"].append(own)
    return [each for each in parts if each["steps"]]


def _fitting(steps: list[ContentNode]) -> list[ContentNode]:
    """As many kinds of step as one screen has room for: all, those that decide, those that stop."""
    shown = steps
    for decides in ((lambda step: any(step[key].value for key in DECIDES) or _stops(step)), _stops):
        if sum(_length(each) for each in shown) > LONGEST:
            shown = [each for each in steps if decides(each)]
    return shown


def _length(step: ContentNode) -> int:
    return len(_first(step)) + sum(len(each) for each in _limits(step))


def _first(step: ContentNode) -> str:
    """The first sentence of what a step does, with the next where it is too short to tell."""
    first, *more = FIRST_SENTENCE.split(str(step["do"].value))
    text = f"{first} {more[0]}" if more and len(first) < SHORT else first
    return text.rstrip(":;.") + "."


def _stops(step: ContentNode) -> bool:
    """Whether a step can stop the work, by itself or by what is found at it."""
    return bool(step["stop"].value) or any(
        each["stops"].value == "true" for each in step["if"].nodes()
    )


def _limits(step: ContentNode) -> Iterator[str]:
    """Figures that a step goes by, named where there are several; and how well one is known.

    Where one of them is the appliance's own or is not held, none is said: beside it the others only
    stand in, and alone they would pass for the limit.
    """
    context = step.page_context
    named = (*resolve.limits(step["expect"]), *resolve.limits(step["timer"]))
    if not all(each.text for each in named):
        yield NOT_HERE
        return
    for limit in named:
        name = f"{limit.label}: " if len(named) > 1 else ""
        bound = BOUNDS.get(str(context.figures[limit.name].get("bound")), "")
        words = "" if limit.provenance in KNOWN else f" ({limit.provenance.replace('-', ' ')})"
        yield f"{name}{bound}{limit.text}{words}"


def _mistakes(node: ContentNode, procedures: Sequence[ContentNode]) -> list[dict[str, Any]]:
    """Each topic of the questions: the slips that they know, and where its steps stop."""
    by_path = {each.path.removesuffix(".html"): each for each in procedures}
    found = []
    for topic, title in _topics(node).items():
        slips = list(_slips(node, topic))
        stops = list(_stopping(node, by_path[topic])) if topic in by_path else []
        if slips or stops:
            page = {"title": title, "link": node.link(f"{topic}.html")}
            own = {"id": topic.replace("/", "-").replace("_", "-"), "stem": stem_of(topic)}
            found.append({**page, **own, "slips": slips, "stops": stops})
    return found


def _topics(node: ContentNode) -> Mapping[str, str]:
    topics: Mapping[str, str] = node.page_context.questions.get("topics", {})
    return topics


def _slips(node: ContentNode, topic: str) -> Iterator[dict[str, str]]:
    """The slips that the questions of a topic tell, each once: what was done, and what to do."""
    held = node.page_context.questions
    names: dict[str, None] = {}
    for template in held["questions"].values():
        if template["topic"] == topic:
            listed = template.get("slips", ())
            names |= dict.fromkeys(
                each if isinstance(each, str) else each["slip"] for each in listed
            )
            names |= dict.fromkeys(each["slip"] for each in items_of(template) if "slip" in each)
    for name in names:
        yield {"did": _sentence(held["slips"][name]), "instead": held["instead"][name]}


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _stopping(node: ContentNode, page: ContentNode) -> Iterator[dict[str, Any]]:
    """What at a step of a procedure stops the work or turns off."""
    for number, step in enumerate(page["steps"].nodes(), start=1):
        for branch in step["if"].nodes():
            if branch["stops"].value == "true":
                anchor = step_anchor(str(step["id"].value or number))
                yield {
                    "link": node.link(page.path, anchor),
                    "number": number,
                    "when": branch["when"].html,
                    "do": branch["do"].html,
                }


Made = Callable[[ContentNode, Sequence[ContentNode]], list[dict[str, Any]]]
SECTIONS: Mapping[str, Made] = {"recaps": _recaps, "mistakes": _mistakes}
