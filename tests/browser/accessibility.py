"""What axe finds on a page, and the displays it is looked at in."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

from build_tools.for_hosts.axe import AXE, TAGS

# What a device asks for, and with it the display that a page has.
DISPLAYS: dict[str, Any] = {
    "light": {"color_scheme": "light", "contrast": "no-preference"},
    "sunlight": {"color_scheme": "light", "contrast": "more"},
    "dark": {"color_scheme": "dark", "contrast": "no-preference"},
}


EVERY_RULE = {"runOnly": {"type": "tag", "values": TAGS}}
# The dearest rules, more than half of axe's time: they look at nothing but how words are coloured,
# and at the size of what is touched, which is looked at more strictly below.
OF_COLOURS = ("color-contrast", "link-in-text-block")
DEAR = (*OF_COLOURS, "target-size")
BUT_DEAR = {**EVERY_RULE, "rules": {rule: {"enabled": False} for rule in DEAR}}
COLOURS = {"runOnly": {"type": "rule", "values": OF_COLOURS}}


def ready(page: Page) -> None:
    """Wait for the form, where the page holds one: it is part of what is looked at."""
    expect(page.locator("[data-hb-form][hidden]")).to_have_count(0)


def faults(page: Page, rules: dict[str, Any] | None = None, *, within: str = "html") -> list[str]:
    """What axe finds, one line each."""
    if page.evaluate("typeof window.axe") == "undefined":
        # Evaluated from outside: the page's own policy stays.
        page.evaluate(f"{AXE.read_text('utf-8')}\n0")
    options = {
        **(rules or EVERY_RULE),
        "resultTypes": ["violations"],
        "selectors": False,  # of each element that it looked at: a third of its time
        "preload": False,  # reads every style sheet anew, for a rule that none of TAGS holds
    }
    found: Any = page.evaluate("asked => axe.run(...asked)", [within, options])
    return [
        f"{fault['id']}: {node['html'][:160]} ({node['failureSummary']})"
        for fault in found["violations"]
        for node in fault["nodes"]
    ]


# The scheme that the page's script names on the body; a page without it (404.html) has none.
SHOWN = {"light": "default", "sunlight": "default", "dark": "slate"}
SHOWS = "shown => (document.body.dataset.mdColorScheme ?? shown) === shown"


def show(page: Page, display: str, *, media: Any = None) -> None:
    """Have a display, and wait until the page shows it: a script follows the device."""
    page.emulate_media(media=media, **DISPLAYS[display])
    page.wait_for_function(SHOWS, arg=SHOWN[display])


def faults_in_both_schemes(page: Page, within: str) -> dict[str, list[str]]:
    """What axe finds in a part of a page, in the light, then in the dark; nothing if all is well.

    What is named, ordered and labelled is the same in both: in the dark the colours are looked at.
    """
    found = {}
    for scheme, rules in (("light", EVERY_RULE), ("dark", COLOURS)):
        show(page, scheme)
        found[scheme] = faults(page, rules, within=within)
    return {scheme: wrong for scheme, wrong in found.items() if wrong}
