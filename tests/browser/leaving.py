"""Typing into a field and leaving the page at once: the plan that each browser carries out."""

from __future__ import annotations

import re
from typing import Any

STEPS = "procedures/before_you_start.html"  # no calculator: what is timed is the record alone
READING = "plate.inlet_pressure"
PAUSES_MS = (0, 50, 150)  # what is typed was kept after 300 ms
TIMES = 20
WAYS = ("reload", "close", "link", "back")  # back to where the link was

LATEST_MS = 20_000
ORIGIN = "performance.timeOrigin"  # another on each page
FIELD = f"""document.querySelector('li[data-hb-reading="{READING}"] input')"""
# Waits until the page can be typed into; tells which of many it is.
READY = f"""new Promise((done) => {{
    const look = () => {{
        if ({FIELD} && document.readyState === 'complete') done({ORIGIN});
        else setTimeout(look, 10);
    }};
    look();
}})"""
# Waits until another page than was left holds the text; tells what its field holds.
ARRIVED = f"""new Promise((done) => {{
    const latest = Date.now() + {LATEST_MS};
    const look = () => {{
        const found = {FIELD}?.value ?? null;
        const isThere = {ORIGIN} !== BEFORE && found === 'TEXT';
        if (isThere || Date.now() > latest) done(found);
        else setTimeout(look, 10);
    }};
    look();
}})"""
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


STEP = '<li class="hb-task"'
LOOK = '<link (?!rel="expect")[^>]*>'  # sheets, a font, icons; what is left holds the first paint


def alone(page: str) -> str:
    """The page of the steps, of which only the one with the field is left; its scripts are too.

    Each browser loads it sixty times: what else stands on it, and its look, are not looked at.
    """
    head, body, rest = re.split("(<body[^>]*>)", page, maxsplit=1)
    head = re.sub(LOOK, "", head)
    [step] = [each for each in rest.split(STEP)[1:] if f'<li data-hb-reading="{READING}"' in each]
    step = step[: step.rindex("</li>")]
    scripts = "".join(re.findall("<script.*?</script>", rest, re.DOTALL))
    return (
        f"{head}{body}<main id=hb-main><ol>{STEP}{step}</li></ol></main><i id=hb-foot></i>{scripts}"
    )


def leaves() -> list[dict[str, Any]]:
    """Each pause as many times, each with a text of its own, by one way after the other."""
    return [
        {"ms": ms, "way": WAYS[number % len(WAYS)], "text": f"{20 + place}.{number + 10}"}
        for place, ms in enumerate(PAUSES_MS)
        for number in range(TIMES)
    ]


def typing(leave: dict[str, Any]) -> str:
    """The script that types, and leaves."""
    return filled(TYPE, TEXT=leave["text"], MS=leave["ms"], WAY=leave["way"])


def arriving(leave: dict[str, Any], before: float) -> str:
    """The script that waits for what was typed on the page after the one of before."""
    return filled(ARRIVED, TEXT=leave["text"], BEFORE=before)


def filled(script: str, **told: Any) -> str:
    """A script with these in the place of their names."""
    for name, value in told.items():
        script = script.replace(name, str(value))
    return script


def plan(address: str) -> dict[str, Any]:
    """The same for a browser that a program of its own drives."""
    return {
        "steps": address + STEPS,
        "ready": READY,
        "arrived": ARRIVED,
        "type": TYPE,
        "leaves": leaves(),
    }


def lost(found: list[str | None]) -> list[tuple[dict[str, Any], str | None]]:
    """What was typed and then stood nowhere."""
    return [
        (leave, each) for leave, each in zip(leaves(), found, strict=True) if each != leave["text"]
    ]
