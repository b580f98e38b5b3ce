"""Typing into a field and leaving the page at once: the plan that each browser carries out."""

from __future__ import annotations

from typing import Any

STEPS = "procedures/before_you_start.html"  # no calculator: what is timed is the record alone
READING = "plate.inlet_pressure"
PAUSES_MS = (0, 50, 150)  # what is typed was kept after 300 ms
TIMES = 20
WAYS = ("reload", "close", "link", "back")  # back to where the link was

FIELD = f"""document.querySelector('li[data-hb-reading="{READING}"] input')"""
READY = f"!!{FIELD} && document.readyState === 'complete'"
VALUE = f"{FIELD}?.value ?? null"
ORIGIN = "performance.timeOrigin"
# Leaves in the task of the key stroke itself where no pause is asked for.
TYPE = f"""(() => {{
    const act = () => {{
        const field = {FIELD};
        field.focus();
        field.value = 'TEXT';
        field.dispatchEvent(new InputEvent('input', {{bubbles: true}}));
        const ways = {{
            reload: () => location.reload(),
            link: () => (location.search = 'TEXT'), // another page, which has the field too
            back: () => history.back(),
            close() {{}},
        }};
        if (MS) setTimeout(ways['WAY'], MS);
        else ways['WAY']();
    }};
    if ('WAY' === 'close') act();
    else setTimeout(act, 0);
}})()"""


def leaves() -> list[dict[str, Any]]:
    """Each pause as many times, each with a text of its own, by one way after the other."""
    return [
        {"ms": ms, "way": WAYS[number % len(WAYS)], "text": f"{20 + place}.{number + 10}"}
        for place, ms in enumerate(PAUSES_MS)
        for number in range(TIMES)
    ]


def typing(leave: dict[str, Any]) -> str:
    """The script that types, and leaves."""
    told = {"TEXT": leave["text"], "MS": str(leave["ms"]), "WAY": leave["way"]}
    script = TYPE
    for name, value in told.items():
        script = script.replace(name, value)
    return script


def plan(address: str) -> dict[str, Any]:
    """The same for a browser that a program of its own drives."""
    return {
        "steps": address + STEPS,
        "ready": READY,
        "origin": ORIGIN,
        "value": VALUE,
        "type": TYPE,
        "leaves": leaves(),
    }


def lost(found: list[str | None]) -> list[tuple[dict[str, Any], str | None]]:
    """What was typed and then stood nowhere."""
    return [
        (leave, each) for leave, each in zip(leaves(), found, strict=True) if each != leave["text"]
    ]
