"""What a procedure's page shows, from its file."""

from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from build_tools.pages import checks, foretold_acts, host_words, notice, resolve
from build_tools.pages.calculator import worked
from build_tools.pages.content_node import ContentNode
from build_tools.pages.outcomes import codes_at
from build_tools.pages.shared import is_shared
from build_tools.pages.timers import timers
from build_tools.sources.page_kinds import step_anchor
from build_tools.sources.project import stem_of

PRACTISE = "practise/session.html"
RECAP = "revise/recap.html"
SECTIONS = (
    ("stop", "Stop at once if"),
    ("cautions", "Cautions"),
    ("purpose", "Purpose"),
    ("who", "Who may do it"),
    ("applies_to", "Applies to"),
    ("does_not_apply_to", "Does not apply to"),
    ("instruments", "Instruments"),
    ("checks", "Checks, in working order"),
    ("steps", "Steps"),
    ("notice", "Draft of the notice"),
    ("finish", "Finish"),
    ("record", "Record"),
)


def context(node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of a procedure."""
    stem = stem_of(node.document.file)
    lists = ("purpose", "who", "applies_to", "does_not_apply_to", "cautions", "stop", "finish")
    steps = _steps(node, stem)
    limits = node.page_context.limits([*_expected(node), *node.figures()])
    sources = resolve.sources(node["sources"])
    related = resolve.related(node["related"])
    said = host_words.words_on(node)
    topics = node.page_context.questions.get("topics", {})
    return {
        "stem": stem,
        "is_shared": is_shared(node),
        **{name: node[name].htmls() for name in lists},
        "stop": host_words.with_added(node["stop"].htmls(), said, "add_stop"),
        "cautions": host_words.with_added(node["cautions"].htmls(), said, "add_caution"),
        "stop_short": _short(node, "stop"),
        "cautions_short": _short(node, "cautions"),
        "about": _about(node),
        "instruments": [_instrument(each) for each in node["instruments"].nodes()],
        "step_parts": _by_part(steps),
        "checks": checks.context(node),
        "is_check": f"procedures/{stem}" in node.page_context.check_pages,
        "notice": notice.context(pages) if node["notice"].value else None,
        "record": [resolve.reading_or_text(each) for each in node["record"].nodes()],
        "limits": limits,
        "sources": sources,
        "related": related,
        "recap": node.link(RECAP, stem_of(node.document.file)),
        "practise": node.link(PRACTISE) if node.path.removesuffix(".html") in topics else "",
        "contents": _contents(node, _by_part(steps), limits, sources, related),
    }


def _short(node: ContentNode, name: str) -> Markup:
    """The line that stands for a list while the reader works: a short one, else its first entry."""
    short = node[f"{name}_short"]
    return short.html if short.value else next(iter(node[name].htmls()), Markup())


# What of the head of a page a reader who works opens by one touch, in the words of its line.
ABOUT = (
    ("purpose", "purpose"),
    ("who", "who may do it"),
    ("instruments", "instruments"),
)


def _about(node: ContentNode) -> str:
    words = [words for name, words in ABOUT if node[name].value]
    return ", ".join(words).capitalize()


Headings = list[tuple[str, str, list[tuple[str, str]]]]


def _contents(node: ContentNode, parts: list[dict[str, Any]], *later: Any) -> Headings:
    """Headings of the page that are there, with their ids and, under the steps, their parts."""
    within = {"steps": [(each["id"], each["title"]) for each in parts if each["title"]]}
    own = [
        (name.replace("_", "-"), title, within.get(name, []))
        for name, title in SECTIONS
        if node[name].value
    ]
    names = (("limits", "Limits"), ("sources", "Sources"), ("related", "Related pages"))
    return own + [(*name, []) for name, there in zip(names, later, strict=True) if there]


def _expected(node: ContentNode) -> list[str]:
    """Every figure that a step expects or times by, in the order of the steps."""
    names = [
        str(each.value)
        for step in node["steps"].nodes()
        for key in ("expect", "timer")
        for each in step[key].nodes()
    ]
    return list(dict.fromkeys(names))


def _steps(node: ContentNode, stem: str) -> list[dict[str, Any]]:
    """Each step; a calculator stands in the first step that uses it, and later ones point there."""
    said = host_words.words_on(node)
    shown: dict[str, dict[str, Any]] = {}
    limits: set[str] = set()
    drawings: dict[str, dict[str, Any]] = {}
    steps = []
    for number, step in enumerate(node["steps"].nodes(), start=1):
        packed = _step(step, number)
        packed["acts"] = foretold_acts.acts(node.page_context.bundle, f"{stem}.{packed['id']}")
        _say_for_hosts(node, packed, said)
        name = step["calculator"].value
        if name in shown:
            packed["calculator"] = {**shown[name], "at": shown[name]["step"]}
        elif name and (found := worked(step["calculator"], name)):
            known = {"stem": name, "first": not shown, "step": packed}
            packed["calculator"] = shown[name] = {**found, **known}
        packed["diagram"] = _drawn_once(packed, drawings)
        packed["shown_before"] = frozenset(limits)
        limits.update(limit.name for limit in packed["expect"])
        packed["watch"] = _watch(step, packed) if step["stopwatch"].value == "true" else None
        packed["is_read"] = any(packed[key] for key in READ)
        steps.append(packed)
    for step, packed in zip(node["steps"].nodes(), steps, strict=True):
        packed["timers"] = timers(node, step, packed, stem, list(shown.values()))
    return steps


def symptoms(node: ContentNode) -> list[dict[str, Any]]:
    """What people type who ought to begin at a step of this page: what they are told, and where."""
    return [
        {
            "say": step["symptom"]["say"].value,
            "typed": step["symptom"]["typed"].value,
            "url": f"{node.path}#{step_anchor(_identity(step, number))}",
        }
        for number, step in enumerate(node["steps"].nodes(), start=1)
        if step["symptom"].value
    ]


def _identity(step: ContentNode, number: int) -> str:
    return str(step["id"].value or number)


# An outcome with these alone is judged in another step, or says something of a slip.
SELDOM = {"judged_in", "seen"}
# What of a step is read, timed or judged.
READ = ("answers", "expect", "timer", "watch", "reading")


def _step(step: ContentNode, number: int) -> dict[str, Any]:
    identity = _identity(step, number)
    return {
        "id": identity,
        "anchor": step_anchor(identity),
        "number": number,
        "part": step["part"].html if step["part"].value else None,
        "do": step["do"].html,
        "why": step["why"].html,
        "expect": resolve.limits(step["expect"]),
        "timer": resolve.limits(step["timer"]),
        "reading": [resolve.reading(each) for each in step["reading"].nodes()],
        "in_pairs": _in_pairs(step),
        "answers": bool(step["outcome"].value),
        "answers_seldom": set(step["outcome"].value or ()) <= SELDOM,
        "branches": [
            {"when": each["when"].html, "do": each["do"].html} for each in step["if"].nodes()
        ],
        # Set by a person, not told from the words: an `if` may stop the work in many ways.
        "stops": any(each["stops"].value == "true" for each in step["if"].nodes()),
        "caution": step["caution"].htmls(),
        "stop": step["stop"].htmls(),
        "diagram": resolve.diagram(step["diagram"], f"drawing-{number}"),
        "calculator": None,
    }


def _say_for_hosts(node: ContentNode, packed: dict[str, Any], said: list[host_words.Said]) -> None:
    """Lay what hosts say of a step over it. What it says of danger stays, and comes first."""
    place = f"{node.path.removesuffix('.html')}#{packed['id']}"
    packed["codes"] = codes_at(node.page_context, place)
    own = [(host, words["steps"][packed["id"]]) for host, words in said]
    packed["caution"] = host_words.with_added(packed["caution"], own, "add_caution")
    packed["stop"] = host_words.with_added(packed["stop"], own, "add_stop")
    instead = [(host, node["do"]) for host, node in own if node["do"].value]
    if instead:
        host, node = instead[-1]
        packed["instead"] = {"host": host, "was": packed["do"]}
        packed["do"] = node.html
    packed["after"] = [
        {"host": host, "words": node["add_after_do"].htmls()}
        for host, node in own
        if node["add_after_do"].value
    ]


def _in_pairs(step: ContentNode) -> bool:
    """Whether fields of a step stand two in a row.

    Those of a gauge have a button on each side, and words to choose from are a row by themselves.
    """
    gauged, record = step.page_context.gauge_steps, step.page_context.visit_record
    names = [str(each.value) for each in step["reading"].nodes()]
    is_wide = any(name in gauged or "options" in record.get(name, {}) for name in names)
    return len(names) > 1 and not is_wide


def _drawn_once(packed: dict[str, Any], drawings: dict[str, Any]) -> dict[str, Any] | None:
    """A drawing that an earlier step has is named there, not drawn again."""
    drawing = packed["diagram"]
    if drawing is None:
        return None
    if drawing["key"] in drawings:
        return {**drawing, "at": drawings[drawing["key"]]}
    drawings[drawing["key"]] = packed
    return drawing


def _watch(step: ContentNode, packed: dict[str, Any]) -> dict[str, str]:
    """The stopwatch of a step, and which input of its calculator takes the time."""
    calculator = packed["calculator"]
    timed = [
        each
        for each in (calculator["show"]["inputs"] if calculator else [])
        if each["kind"] == "quantity" and each["unit"] == "s"
    ]
    if not timed:
        step["stopwatch"].note(
            "This step has a stopwatch and no calculator that takes a time.",
            "A stopwatch hands its time to the calculator of its step.",
            "add the calculator to the step, or delete the stopwatch",
        )
        return {"for": "", "label": "", "ahead": ""}
    taker = f"{step['calculator'].value}.{timed[0]['name']}"
    return {"for": taker, "label": timed[0]["label"], "ahead": _foretold_by(step)}


def _foretold_by(step: ContentNode) -> str:
    """The step whose line says what to watch for while this one is timed; empty for none."""
    procedure = step.document
    outcomes = {each["id"]: each.get("outcome", {}) for each in procedure.value["steps"]}
    own = step["id"].value
    name = outcomes[own].get("judged_in", own)
    return f"{stem_of(procedure.file)}.{name}" if "run_ahead" in outcomes[name] else ""


def _by_part(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Steps under the heading that the first of them names."""
    nodes: list[dict[str, Any]] = []
    for step in steps:
        if step["part"] or not nodes:
            nodes.append({"title": step["part"], "id": f"part-{len(nodes) + 1}", "steps": []})
        nodes[-1]["steps"].append(step)
    for each in nodes:
        each["span"] = _span(each["steps"], len(steps))
    return nodes


def _span(own: list[dict[str, Any]], count: int) -> str:
    """Which steps of the page a part has: `14 to 23 of 44`."""
    first, last = own[0]["number"], own[-1]["number"]
    return f"{first} of {count}" if first == last else f"{first} to {last} of {count}"


def _instrument(node: ContentNode) -> dict[str, Any]:
    """An instrument of data/instruments.yaml with its use, or a plain sentence."""
    if not isinstance(node.value, dict):
        return {"text": node.html, "known": None}
    instrument = node.page_context.bundle["instruments"][node["id"].value]
    return {"text": node["use"].html, "known": instrument}
