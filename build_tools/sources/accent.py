"""A host's own colour: held to the contrast that a reader needs, in each display of the handbook.

The colours that it stands beside are read from the sheet that names them all.
"""

import re
from collections.abc import Mapping
from functools import cache

from build_tools.setup.paths import ROOT

TOKENS = ROOT / "build_tools" / "theme" / "assets" / "css" / "tokens.css"
TOKEN = re.compile(
    r"--hb-(\w[\w-]*): var\(--hb-light, ([^)]+)\) var\(--hb-sun, ([^)]+)\)"
    r" var\(--hb-dark, ([^)]+)\);"
)
LEAST = 4.5  # WCAG 2.2, 1.4.3: text beside its ground
DISPLAYS = ("light", "sunlight", "dark")
# Each key of `look`, the display that it is for, and the colours of that display it meets there.
MEETS = {
    "accent": (0, ("paper", "panel", "on-accent", "accent-paper")),
    "accent_dark": (2, ("paper", "panel", "on-accent", "accent-paper")),
}
EXPECTED = f"Text and its ground stand apart by {LEAST} or more."
COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
SHORT = 4  # characters of "#fff"


@cache
def tokens() -> Mapping[str, tuple[str, str, str]]:
    """Each colour of the handbook in light, in sunlight and in the dark."""
    found = TOKEN.findall(TOKENS.read_text("utf-8"))
    return {name: (light, sun, dark) for name, light, sun, dark in found}


def contrast(one: str, other: str) -> float:
    """How far two colours stand apart, as WCAG 2.2 defines its contrast ratio."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    digits = colour.removeprefix("#")
    digits = "".join(2 * each for each in digits) if len(colour) == SHORT else digits
    parts = [int(digits[place : place + 2], 16) / 255 for place in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def fault(key: str, colour: str) -> str:
    """The colour of the handbook that a host's own can be told from worst, where that is too badly.

    Returns:
        A sentence, empty where the colour can be told well enough from each.
    """
    place, names = MEETS[key]
    beside = min((tokens()[name][place] for name in names), key=lambda it: contrast(colour, it))
    found = contrast(colour, beside)
    ratio = f"{int(found * 100) / 100:.2f}"
    said = f"Beside {beside} of the {DISPLAYS[place]} display its contrast is {ratio}."
    return said if found < LEAST else ""


def sheet(colours: Mapping[str, str]) -> str:
    """What puts a host's colours in the place of the handbook's own; nothing where it has none."""
    lines = []
    for name in ("accent", "focus", "bar"):
        light, sun, dark = tokens()[name]
        light = colours.get("accent", light)
        if name != "bar":  # the words on it are white in each display
            dark = colours.get("accent_dark", dark)
        lines.append(
            f"--hb-{name}:var(--hb-light,{light}) var(--hb-sun,{sun}) var(--hb-dark,{dark});"
        )
    return f"body{{{''.join(lines)}}}\n" if colours else ""
