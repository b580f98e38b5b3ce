"""What a procedure's page shows, from its file."""

from typing import Any

from build_tools.pages import checks, resolve
from build_tools.pages.calculator import worked
from build_tools.pages.content_node import Part
from build_tools.pages.timers import timers

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
    ("finish", "Finish"),
    ("record", "Record"),
)


def context(part: Part, stem: str) -> dict[str, Any]:
    """Values for the template of a procedure."""
    lists = ("purpose", "who", "applies_to", "does_not_apply_to", "cautions", "stop", "finish")
    steps = _steps(part, stem)
    limits = part.shelf.limits([*_expected(part), *part.figures()])
    sources = resolve.sources(part["sources"])
    related = resolve.related(part["related"])
    return {
        "stem": stem,
        **{name: part[name].texts() for name in lists},
        "instruments": [_instrument(each) for each in part["instruments"].parts()],
        "step_parts": _by_part(steps),
        "checks": checks.context(part),
        "record": [resolve.reading_or_text(each) for each in part["record"].parts()],
        "limits": limits,
        "sources": sources,
        "related": related,
        "contents": _contents(part, limits, sources, related),
    }


def _contents(part: Part, *later: Any) -> list[tuple[str, str]]:
    """Headings of the page that are there, with their ids."""
    own = [(name.replace("_", "-"), title) for name, title in SECTIONS if part[name].value]
    names = (("limits", "Limits"), ("sources", "Sources"), ("related", "Related pages"))
    return own + [name for name, there in zip(names, later, strict=True) if there]


def _expected(part: Part) -> list[str]:
    """Every figure that a step expects or times by, in the order of the steps."""
    names = [
        str(each.value)
        for step in part["steps"].parts()
        for key in ("expect", "timer")
        for each in step[key].parts()
    ]
    return list(dict.fromkeys(names))


def _steps(part: Part, stem: str) -> list[dict[str, Any]]:
    """Each step; a calculator stands in the first step that uses it, and later ones point there."""
    shown: dict[str, dict[str, Any]] = {}
    limits: set[str] = set()
    drawings: dict[str, dict[str, Any]] = {}
    steps = []
    for number, step in enumerate(part["steps"].parts(), start=1):
        packed = _step(step, number)
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
        steps.append(packed)
    for step, packed in zip(part["steps"].parts(), steps, strict=True):
        packed["timers"] = timers(part, step, packed, stem, list(shown.values()))
    return steps


def _step(step: Part, number: int) -> dict[str, Any]:
    identity = step["id"].value or str(number)
    return {
        "id": identity,
        "anchor": f"step-{identity.replace('_', '-')}",
        "number": number,
        "part": step["part"].text() if step["part"].value else None,
        "do": step["do"].text(),
        "why": step["why"].text(),
        "expect": resolve.limits(step["expect"]),
        "timer": resolve.limits(step["timer"]),
        "reading": [resolve.reading(each) for each in step["reading"].parts()],
        "branches": [
            {"when": each["when"].text(), "do": each["do"].text()} for each in step["if"].parts()
        ],
        "caution": step["caution"].texts(),
        "stop": step["stop"].texts(),
        "diagram": resolve.diagram(step["diagram"], f"drawing-{number}"),
        "calculator": None,
    }


def _drawn_once(packed: dict[str, Any], drawings: dict[str, Any]) -> dict[str, Any] | None:
    """A drawing that an earlier step has is named there, not drawn again."""
    drawing = packed["diagram"]
    if drawing is None:
        return None
    if drawing["key"] in drawings:
        return {**drawing, "at": drawings[drawing["key"]]}
    drawings[drawing["key"]] = packed
    return drawing


def _watch(step: Part, packed: dict[str, Any]) -> dict[str, str]:
    """The stopwatch of a step, and which input of its calculator takes the time."""
    calculator = packed["calculator"]
    timed = [
        each
        for each in (calculator["show"]["inputs"] if calculator else [])
        if each["kind"] == "quantity" and each["unit"] == "s"
    ]
    if not timed:
        step["stopwatch"].problem(
            "This step has a stopwatch and no calculator that takes a time.",
            "A stopwatch hands its time to the calculator of its step.",
            "add the calculator to the step, or delete the stopwatch",
        )
        return {"for": "", "label": ""}
    return {"for": f"{step['calculator'].value}.{timed[0]['name']}", "label": timed[0]["label"]}


def _by_part(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Steps under the heading that the first of them names."""
    parts: list[dict[str, Any]] = []
    for step in steps:
        if step["part"] or not parts:
            parts.append({"title": step["part"], "id": f"part-{len(parts) + 1}", "steps": []})
        parts[-1]["steps"].append(step)
    return parts


def _instrument(part: Part) -> dict[str, Any]:
    """An instrument of data/instruments.yaml with its use, or a plain sentence."""
    if not isinstance(part.value, dict):
        return {"text": part.text(), "known": None}
    known = part["id"].known(part["id"].value, part.shelf.bundle["instruments"], "instrument")
    instrument = part.shelf.bundle["instruments"][part["id"].value] if known else None
    return {"text": part["use"].text(), "known": instrument}
