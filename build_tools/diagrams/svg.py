"""SVG written short: what shapes have in common once, numbers and paths without a tail."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from xml.etree import ElementTree as ET

Point = tuple[float, float]

TEXT = 16.5  # units, the size of words that name none: 14 pixels or more on a phone
JOINED = {"stroke-linejoin": "round", "stroke-linecap": "round"}
# Written once for a whole sheet, and what else a shape takes from the group it is in.
SHARED = {
    **JOINED,
    "font-size": str(TEXT),
    "text-anchor": "start",
    "fill": "currentColor",
    "stroke": "none",
    "stroke-width": "2",
}
INHERITED = (
    "fill",
    "fill-opacity",
    "stroke",
    "stroke-width",
    "stroke-opacity",
    "stroke-dasharray",
)


def gathered(parts: list[ET.Element]) -> Iterator[ET.Element]:
    """The same shapes, with what they have in common written once: a page holds many drawings."""
    for look, run in groupby(parts, key=_look):
        written = dict(look)
        shapes = [_without(shape, {**SHARED, **written}) for shape in run]
        if written.get("fill") == "none" and "stroke-opacity" not in written:
            shapes = list(_in_one(shapes))
        if len(shapes) == 1:
            shapes[0].attrib.update(written)
        if len(shapes) == 1 or not look:
            yield from shapes
        else:
            group = ET.Element("g", written)
            group.extend(shapes)
            yield group


def _in_one(shapes: list[ET.Element]) -> Iterator[ET.Element]:
    """The same lines, those that follow one another as one path: it is drawn sooner, too.

    Only what is not filled and not seen through looks the same so.
    """
    for is_path, run in groupby(shapes, key=lambda shape: shape.attrib.keys() == {"d"}):
        if is_path:
            yield ET.Element("path", {"d": "".join(shape.attrib["d"] for shape in run)})
        else:
            yield from run


def _look(shape: ET.Element) -> tuple[tuple[str, str], ...]:
    """How a shape looks, but for what the whole sheet shares."""
    own = ((name, shape.get(name)) for name in INHERITED)
    return tuple((name, value) for name, value in own if value and SHARED.get(name) != value)


def _without(shape: ET.Element, written: Mapping[str, str]) -> ET.Element:
    """A copy of a shape without the attributes that are written above it."""
    left = {name: value for name, value in shape.items() if written.get(name) != value}
    copy = ET.Element(shape.tag, left)
    copy.text = shape.text
    return copy


def steps(points: Iterable[Point]) -> str:
    """Straight lines from point to point, as short as SVG takes them.

    >>> steps([(0, 168), (76, 168), (76, 192), (80.5, 200), (84, 204)])
    'M0 168H76V192L80.5 200 84 204'
    """
    found, before, written = "", ("", ""), ""
    for x, y in ((shown(x), shown(y)) for x, y in points):
        if not found:
            found, written = f"M{x} {y}", "L"  # whatever follows a move is a line
        elif y == before[1]:
            found, written = f"{found}H{x}", "H"
        elif x == before[0]:
            found, written = f"{found}V{y}", "V"
        else:
            found, written = f"{found}{' ' if written == 'L' else 'L'}{x} {y}", "L"
        before = (x, y)
    return found


def shown(value: object) -> str:
    """A number without a tail of noughts; anything else as it is.

    >>> shown(12.0), shown(1 / 3)
    ('12', '0.33')
    """
    if isinstance(value, float):
        return f"{value:.2f}".rstrip("0").rstrip(".")
    return str(value)
