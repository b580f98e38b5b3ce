"""A small drawing kit: lines, shapes and words on one sheet, written out as SVG.

A sheet is 360 units wide, so that it is drawn nearly one to one on a phone: inside the frame of a
page it is about 322 pixels wide, and its smallest words are read at 14 pixels. Colours are the
page's own (`currentColor`) or variables with a colour to fall back on, so a drawing is right in the
light, in the dark and on paper without a style sheet.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

from build_tools.diagrams.svg import JOINED, SHARED, TEXT, Point, gathered, shown, steps

WIDTH = 360
SMALL = 15.8  # the least that a phone may show
LINE = 19  # from one line of words to the next

GAS = "var(--hb-drawing-gas, #3b87d0)"
WATER = "var(--hb-drawing-water, #2f9aa8)"
MARK = "var(--hb-drawing-mark, #d2521a)"

# Each look is a set of attributes, so that nothing depends on a style sheet or an inline style.
LOOKS: dict[str, dict[str, str]] = {
    "line": {"fill": "none", "stroke": "currentColor", "stroke-width": "2"},
    "fine": {"fill": "none", "stroke": "currentColor", "stroke-width": "1.2"},
    "broken": {
        "fill": "none",
        "stroke": "currentColor",
        "stroke-width": "1.5",
        "stroke-dasharray": "5 4",
    },
    "lead": {
        "fill": "none",
        "stroke": "currentColor",
        "stroke-width": "1",
        "stroke-opacity": "0.7",
    },
    "body": {
        "fill": "currentColor",
        "fill-opacity": "0.08",
        "stroke": "currentColor",
        "stroke-width": "2",
    },
    "solid": {"fill": "currentColor", "stroke": "none"},
    "gas": {"fill": GAS, "fill-opacity": "0.35", "stroke": "none"},
    "gas_line": {"fill": "none", "stroke": GAS, "stroke-width": "3"},
    "tube": {"fill": "none", "stroke": GAS, "stroke-width": "6", "stroke-opacity": "0.55"},
    "water": {"fill": WATER, "fill-opacity": "0.55", "stroke": "none"},
    "mark": {"fill": "none", "stroke": MARK, "stroke-width": "4"},
    "mark_fill": {"fill": MARK, "stroke": "none"},
    "mark_body": {"fill": MARK, "fill-opacity": "0.25", "stroke": MARK, "stroke-width": "3"},
}


@dataclass(frozen=True)
class Box:
    """Where something stands on the sheet."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        """Whether two boxes share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


@dataclass
class Words:
    """One line of words on the sheet, with the room that it takes."""

    text: str
    box: Box
    size: float


@dataclass
class Sheet:
    """One drawing in the making.

    Args:
        prefix: Put before every id, so that two drawings can stand on one page.
        title: Its name.
        alt: What it shows, in words, for those who don't see it.
        height: Where the sheet ends, in the units of the width; a drawing sets it.
        top: Where the sheet begins, for a drawing that leaves its upper part out.
    """

    prefix: str
    title: str
    alt: str
    height: float = 240
    top: float = 0
    words: list[Words] = field(default_factory=list)
    parts: list[ET.Element] = field(default_factory=list)

    def add(self, tag: str, look: str, **attributes: object) -> ET.Element:
        """One shape in one look. `_` in a name stands for the dash of SVG."""
        own = {name.replace("_", "-"): shown(value) for name, value in attributes.items()}
        element = ET.Element(tag, {**LOOKS[look], **own})
        self.parts.append(element)
        return element

    def path(self, look: str, d: str) -> None:
        """A path, with round joins and ends."""
        self.add("path", look, d=d, **{k.replace("-", "_"): v for k, v in JOINED.items()})

    def polyline(self, look: str, *points: Point, closed: bool = False) -> None:
        """Straight lines from point to point."""
        self.path(look, f"{steps(points)}{'z' if closed else ''}")

    def rect(self, look: str, at: Point, width: float, height: float, *, corner: float = 0) -> None:
        """A rectangle from its upper left corner, its corners rounded."""
        x, y = at
        round_off = {"rx": corner} if corner else {}
        self.add("rect", look, x=x, y=y, width=width, height=height, **round_off)

    def circle(self, look: str, x: float, y: float, radius: float) -> None:
        """A circle."""
        self.add("circle", look, cx=x, cy=y, r=radius)

    def arrow(self, look: str, start: Point, end: Point, head: float = 9) -> None:
        """A straight arrow along x or along y."""
        (x0, y0), (x1, y1) = start, end
        step_x, step_y = _sign(x1 - x0), _sign(y1 - y0)
        neck = (x1 - step_x * head, y1 - step_y * head)
        half = head * 0.6
        sides = (
            (neck[0] + step_y * half, neck[1] + step_x * half),
            (neck[0] - step_y * half, neck[1] - step_x * half),
        )
        self.polyline(look, start, neck)
        fill = "mark_fill" if look == "mark" else "solid"
        self.polyline(fill, sides[0], end, sides[1], closed=True)

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
    ) -> None:
        """One line of words, its foot at y; `anchor` says what of it stands at x."""
        element = self.add("text", look, x=x, y=y, font_size=size, text_anchor=anchor)
        if bold:
            element.set("font-weight", "700")
        element.text = text
        width = text_width(text, size, bold=bold)
        left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        box = Box(left, y - 0.78 * size, left + width, y + 0.24 * size)
        self.words.append(Words(text, box, size))

    def lines(self, x: float, y: float, texts: Iterable[str], **look: object) -> None:
        """Lines of words, one under the other."""
        for number, text in enumerate(texts):
            self.text(x, y + number * LINE, text, **look)  # type: ignore[arg-type]

    def lead(self, *points: Point) -> None:
        """The thin line from a word to what it names, with a dot at its end."""
        self.polyline("lead", *points)
        self.circle("solid", *points[-1], 2.2)

    def svg(self) -> str:
        """The sheet as SVG text, ready to stand in a page."""
        title_id, alt_id = f"{self.prefix}-title", f"{self.prefix}-alt"
        root = ET.Element(
            "svg",
            {
                "class": "hb-drawing",
                "viewBox": f"0 {shown(self.top)} {WIDTH} {shown(self.height - self.top)}",
                "role": "img",
                "aria-labelledby": f"{title_id} {alt_id}",
                **SHARED,
            },
        )
        ET.SubElement(root, "title", {"id": title_id}).text = self.title
        ET.SubElement(root, "desc", {"id": alt_id}).text = self.alt
        root.extend(gathered(self.parts))
        # A page needs no blank before the end of a tag. In words and values ">" is escaped.
        return ET.tostring(root, encoding="unicode").replace(" />", "/>")


# Widths in shares of the size, as wide as the widest font that a page falls back on, so that words
# which fit here fit on the page.
NARROW, SLIM, WIDE = set("iljI.,:;'’|! "), set("ftr()-[]/"), set("mwMW—…")


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """About how wide a line of words is."""
    share = sum(_share(letter) for letter in text)
    return share * size * (1.06 if bold else 1)


def _share(letter: str) -> float:
    if letter in NARROW:
        return 0.34
    if letter in SLIM:
        return 0.42
    if letter in WIDE:
        return 0.98
    return 0.74 if letter.isupper() else 0.62


def _sign(value: float) -> int:
    return (value > 0) - (value < 0)
