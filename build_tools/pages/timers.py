"""The timers of a step: what each runs for, and which reading is asked for at its end."""

from typing import Any

from build_tools.pages.content_node import ContentNode
from build_tools.pages.page_context import Limit
from calcs.engine.units import parse_quantity, same_kind


def timers(
    page: ContentNode,
    step: ContentNode,
    packed: dict[str, Any],
    stem: str,
    calculators: list[dict[str, Any]],
) -> list[dict[str, Any]]:
    """One timer for each period of a step. A period that is not held is left to the words.

    Args:
        page: The procedure.
        step: The step, as its file has it.
        packed: The same, as the page shows it.
        stem: Of the procedure.
        calculators: Those on the page, which may take a reading.
    """
    packed["gives"] = given = _given(step, packed, calculators)
    made = []
    for number, limit in enumerate(packed["timer"], start=1):
        seconds = _seconds(step, limit)
        if seconds is None:
            continue
        key = f"{stem}.{packed['id']}" + (f".{number}" if number > 1 else "")
        identity = key.replace("_", "-").replace(".", "-")
        made.append(
            {
                "key": key,
                "id": f"{identity}-timer",
                "seconds": seconds,
                "shown": f"{seconds // 60}:{seconds % 60:02}",
                "label": page.page_context.figures[limit.name]["label"],
                "where": f"{page['title'].value}, step {packed['number']}",
                "reads": bool(packed["reading"]),
                "asks": _asks(step, packed, identity, calculators, given),
            }
        )
    return made


def _seconds(step: ContentNode, limit: Limit) -> int | None:
    if not limit.value:
        return None
    period = parse_quantity(limit.value)
    if same_kind(period.units, "s"):
        return round(period.to("s").magnitude)
    step["timer"].note(
        f"The figure '{limit.name}' is {limit.value}, which is no time.",
        "A timer runs for a period.",
        "name a figure whose value is a time",
    )
    return None


def _asks(
    step: ContentNode,
    packed: dict[str, Any],
    identity: str,
    calculators: list[dict[str, Any]],
    given: dict[str, str],
) -> list[dict[str, Any]]:
    """The readings of the step that a calculator on the page takes, its own before others."""
    own = [each for each in calculators if each["stem"] == step["calculator"].value]
    takers = [{**each, "takes": {**each["takes"], **given}} for each in own]
    takers += [each for each in calculators if each not in own]
    asks = []
    for number, reading in enumerate(packed["reading"], start=1):
        found = (_taken(reading["name"], each) for each in takers)
        if taken := next(filter(None, found), None):
            asks.append({"id": f"{identity}-ask-{number}", **taken, **reading})
    return asks


def _taken(reading: str, calculator: dict[str, Any]) -> dict[str, str] | None:
    """The input that takes a reading: the step says so, or the calculator's own example does."""
    for name, takes in calculator["takes"].items():
        if takes == reading:
            title = calculator["show"]["title"]
            return {"takes": f"{calculator['stem']}.{name}", "title": title}
    return None


def _given(
    step: ContentNode, packed: dict[str, Any], calculators: list[dict[str, Any]]
) -> dict[str, str]:
    """What `gives` says of the step's calculator: its input, and the step's reading for it.

    A timer hands it on at its end; the visit record fills and keeps that input by it.
    """
    readings = [reading["name"] for reading in packed["reading"]]
    if step["gives"].value and not readings:
        step["gives"].note(
            "This step gives readings and asks for none.",
            "What a step gives to its calculator is a reading of its own.",
            "add the reading to the step, or delete 'gives'",
        )
        return {}
    own = [each for each in calculators if each["stem"] == step["calculator"].value]
    inputs = [each["name"] for calculator in own for each in calculator["show"]["inputs"]]
    return {
        name: reading
        for name, reading in (step["gives"].value or {}).items()
        if step["gives"].known(name, inputs, "input of this step's calculator")
        and step["gives"][name].known(reading, readings, "reading of this step")
    }
