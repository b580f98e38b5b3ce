"""A sheet to draw an instrument on, written out as SVG by plain text.

It is drawn by the build and by the browser's Python alike. So nothing here asks a library: a number
is written with two decimals at most, and a hand is turned by `rotate`, never by a sine whose last
digit could differ. Colours are the page's own, so it is right in the light, in the dark and on
paper. A part that a reader reads has a name in `data-hb-gauge`: tests read the drawing by it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

WIDTH = 360  # units: nearly one to one on a phone, and a hand wide on paper
TEXT = 16.5
SMALL = 15.8  # the least that a phone may show

Point = tuple[float, float]

WATER = "var(--hb-drawing-water,#2f9aa8)"
MARK = "var(--hb-drawing-mark,#d2521a)"
INK = "currentColor"
LOOKS = {
    "line": f'fill="none" stroke="{INK}" stroke-width="2"',
    "thick": f'fill="none" stroke="{INK}" stroke-width="3.5"',
    "fine": f'fill="none" stroke="{INK}" stroke-width="1.2"',
    "body": f'fill="{INK}" fill-opacity=".08" stroke="{INK}" stroke-width="2"',
    "solid": f'fill="{INK}"',
    "water": f'fill="{WATER}" fill-opacity=".55"',
    "mark": f'fill="none" stroke="{MARK}" stroke-width="2.5"',
    "broken": f'fill="none" stroke="{MARK}" stroke-width="1.5" stroke-dasharray="5 4"',
    "mark_fill": f'fill="{MARK}"',
    "mark_body": f'fill="{MARK}" fill-opacity=".2" stroke="{MARK}" stroke-width="2.5"',
}


def shown(value: float) -> str:
    """A number without a tail of noughts.

    >>> shown(12.0), shown(1 / 3), shown(-0.001)
    ('12', '0.33', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escaped(text: str) -> str:
    """Words as they may stand in SVG."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


@dataclass
class Sheet:
    """One drawing in the making.

    Args:
        height: Where it ends, in units; an instrument adds its own.
        top: Where the instrument that is drawn now begins.
        parts: What was drawn.
    """

    height: float = 0.0
    top: float = 0.0
    parts: list[str] = field(default_factory=list)

    def begin(self, height: float) -> None:
        """Room for one more instrument, under those that are there."""
        self.top = self.height
        self.height += height

    def path(self, look: str, *points: Point, name: str = "", closed: bool = False) -> None:
        """Straight lines from point to point."""
        steps = "L".join(f"{shown(x)} {shown(self.top + y)}" for x, y in points)
        end = "z" if closed else ""
        self.parts.append(f'<path{_named(name)} {LOOKS[look]} d="M{steps}{end}"/>')

    def curve(self, look: str, d: Sequence[str | Point], *, name: str = "") -> None:
        """A path of letters and points, each point from the top of this instrument."""
        told = [
            each if isinstance(each, str) else f"{shown(each[0])} {shown(self.top + each[1])} "
            for each in d
        ]
        self.parts.append(f'<path{_named(name)} {LOOKS[look]} d="{"".join(told).strip()}"/>')

    def rect(self, look: str, at: Point, width: float, height: float, *, corner: float = 0) -> None:
        """A rectangle from its upper left corner, its corners rounded."""
        x, y = at
        place = f'x="{shown(x)}" y="{shown(self.top + y)}"'
        size = f'width="{shown(width)}" height="{shown(height)}" rx="{shown(corner)}"'
        self.parts.append(f"<rect {LOOKS[look]} {place} {size}/>")

    def circle(self, look: str, x: float, y: float, radius: float) -> None:
        """A circle."""
        place = f'cx="{shown(x)}" cy="{shown(self.top + y)}" r="{shown(radius)}"'
        self.parts.append(f"<circle {LOOKS[look]} {place}/>")

    def hand(self, look: str, middle: Point, length: float, degrees: float, name: str) -> None:
        """The hand of a dial, turned from the top with the clock."""
        x, y = middle[0], self.top + middle[1]
        turn = f'transform="rotate({shown(degrees)} {shown(x)} {shown(y)})"'
        line = f"M{shown(x)} {shown(y + length / 5)}V{shown(y - length)}"
        self.parts.append(f'<path{_named(name)} {LOOKS[look]} {turn} d="{line}"/>')

    def text(
        self,
        x: float,
        y: float,
        text: str,
        *,
        anchor: str = "start",
        size: float = TEXT,
        bold: bool = False,
        look: str = "solid",
        name: str = "",
    ) -> None:
        """One line of words, its foot at y; `anchor` says what of it stands at x."""
        place = f'x="{shown(x)}" y="{shown(self.top + y)}" font-size="{shown(size)}"'
        told = "" if anchor == "start" else f' text-anchor="{anchor}"'
        weight = ' font-weight="700"' if bold else ""
        start = f"<text{_named(name)} {LOOKS[look]} {place}{told}{weight}>"
        self.parts.append(f"{start}{escaped(text)}</text>")

    def arrow(self, start: Point, end: Point) -> None:
        """An arrow up or down, in the colour of what is marked."""
        (x, _), (_, y) = start, end
        head = 8 if y > start[1] else -8
        self.path("mark", start, (x, y - head))
        self.path("mark_fill", (x - 5, y - head), (x, y), (x + 5, y - head), closed=True)

    def svg(self, words: str) -> str:
        """The sheet as SVG text. `words` say what it shows to whoever does not see it."""
        size = f'viewBox="0 0 {WIDTH} {shown(self.height)}"'
        about = f'width="{WIDTH}" height="{shown(self.height)}" role="img"'
        space = 'xmlns="http://www.w3.org/2000/svg" class="hb-drawing"'
        start = f'<svg {space} {size} {about} aria-label="{escaped(words)}">'
        return f"{start}{''.join(self.parts)}</svg>"


def _named(name: str) -> str:
    return f' data-hb-gauge="{name}"' if name else ""
