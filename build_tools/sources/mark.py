"""A host's mark: an SVG of shapes and colours. Whatever else stands in one is refused.

It is written anew out of what is known to be harmless. So nothing of it runs and nothing of it is
fetched, whatever an SVG may come to allow.
"""

from collections.abc import Iterator
from xml.etree import ElementTree as ET

from build_tools.sources.problems import listing

SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = (
    *("svg", "g", "defs", "title", "desc", "path", "rect", "circle", "ellipse", "line"),
    *("polyline", "polygon", "linearGradient", "radialGradient", "stop", "clipPath"),
)
ATTRIBUTES = frozenset(
    (
        *("viewBox", "width", "height", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r"),
        *("rx", "ry", "fx", "fy", "d", "points", "transform", "id", "offset", "fill"),
        *("fill-rule", "fill-opacity", "stroke", "stroke-width", "stroke-linecap"),
        *("stroke-linejoin", "stroke-miterlimit", "stroke-dasharray", "stroke-opacity"),
        *("opacity", "stop-color", "stop-opacity", "clip-path", "clip-rule", "gradientUnits"),
        *("gradientTransform", "spreadMethod", "preserveAspectRatio", "version", "role"),
    )
)
LARGEST = 40_000  # characters: each page loads it
DRAWN_AS = "A mark is drawn of shapes alone: {}."
LINKED = "url("


def faults(text: str) -> Iterator[tuple[str, str, str]]:
    """What is wrong with a mark: what was found, what was expected and what to do."""
    if len(text) > LARGEST:
        said = f"This drawing has {len(text)} characters."
        yield said, f"A mark has {LARGEST} at most.", "save it with fewer points"
        return
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        found = "The drawing has a document type, which can name other files."
        yield found, "", "delete the line that begins with <!DOCTYPE"
        return
    try:
        root = ET.fromstring(text)  # noqa: S314  no entity can be declared: see above
    except ET.ParseError as error:
        yield f"The drawing can't be read: {error}.", "", "save it anew as plain SVG"
        return
    if root.tag != f"{SVG}svg" or "viewBox" not in root.attrib:
        found = "The drawing does not begin with <svg> and a viewBox."
        yield found, "", "save it anew as plain SVG, with a viewBox"
        return
    yield from _strangers(root)


def _strangers(root: ET.Element) -> Iterator[tuple[str, str, str]]:
    seen = set()
    for element in root.iter():
        name = _plain(element.tag)
        if name not in ELEMENTS:
            said = f"<{name}>"
            if said not in seen:
                yield f"Here is {said}.", DRAWN_AS.format(listing(ELEMENTS[5:13])), "delete it"
            seen.add(said)
            continue
        for key, value in element.attrib.items():
            said = f'{_plain(key)}="{value[:40]}"'
            if not _is_plain(key, value) and said not in seen:
                expected = "It has attributes of shape and colour alone, within itself."
                yield f"<{name}> has {said}.", expected, "delete it"
                seen.add(said)


def _is_plain(key: str, value: str) -> bool:
    links = value.count(LINKED)
    return key in ATTRIBUTES and links == value.count(f"{LINKED}#") and ":" not in value


def _plain(tag: object) -> str:
    """The name without the namespace that stands before it."""
    return str(tag).rpartition("}")[2]


def cleaned(text: str) -> str:
    """The drawing out of harmless parts alone; empty where anything else stands in it."""
    if next(faults(text), None) is not None:
        return ""
    ET.register_namespace("", SVG.strip("{}"))
    return ET.tostring(ET.fromstring(text), encoding="unicode")  # noqa: S314  see `faults`
