"""Moodle XML: numbers with tolerance, units and the slips that are recognised; choices.

The form is that of Moodle's own documentation, "Moodle XML format". A fraction must be one of those
that its gradebook knows, to five places.
"""

from __future__ import annotations

import binascii
from collections.abc import Iterator

from calcs.practice.exports.items import Choice, Item
from calcs.practice.exports.markup import DECLARATION, Markup, element, joined

SHOWN_AS_TYPED = "0"  # of `showunits`: the unit is typed beside the number


def quiz(items: list[Item], title: str) -> str:
    """A question bank's file with all questions of a paper, in a category of its own."""
    place = f"$course$/top/{title.replace('/', '//')}"
    category = element("category", {}, _text(place))
    first = element("question", {"type": "category"}, category)
    return f"{DECLARATION}{element('quiz', {}, first, *map(_question, items))}\n"


def _question(item: Item) -> Markup:
    kind = "multichoice" if item.choices else "numerical"
    own = _multichoice(item) if item.choices else _numerical(item)
    return element(
        "question",
        {"type": kind},
        element("name", {}, _text(f"{item.id}: {item.title}")),
        _asked(item),
        _html("generalfeedback", item.feedback),
        element("defaultgrade", {}, str(item.marks)),
        element("penalty", {}, "0"),
        element("hidden", {}, "0"),
        *own,
    )


def _asked(item: Item) -> Markup:
    """The stem, with its unit where a number is asked for, and its picture."""
    stem = item.stem if item.choices or not item.unit else f"{item.stem} Answer in {item.unit}."
    html = element("p", {}, stem)
    if not item.picture:
        return element("questiontext", {"format": "html"}, _text(str(html)))
    name = f"{item.id}.svg"
    about = {"src": f"@@PLUGINFILE@@/{name}", "alt": item.picture_words}
    html = joined([html, element("p", {}, element("img", about))])
    held = binascii.b2a_base64(item.picture.encode(), newline=False).decode("ascii")
    file = element("file", {"name": name, "path": "/", "encoding": "base64"}, held)
    return element("questiontext", {"format": "html"}, _text(str(html)), file)


def _text(text: str) -> Markup:
    return element("text", {}, text)


def _html(name: str, lines: tuple[str, ...] | list[str]) -> Markup:
    """A text that is shown as HTML: it is made safe once as HTML, and once as XML."""
    html = joined(element("p", {}, line) for line in lines if line)
    return element(name, {"format": "html"}, _text(str(html)))


def _numerical(item: Item) -> Iterator[Markup]:
    yield _number(item.value, item.tolerance, 100, "")
    for slip in item.slips:
        yield _number(slip.value, slip.tolerance, 100 * slip.marks / item.marks, slip.feedback)
    units = [
        element("unit", {}, element("multiplier", {}, size), element("unit_name", {}, name))
        for name, size in item.units
    ]
    if units:
        yield element("units", {}, *units)
    yield element("unitgradingtype", {}, "0")  # a unit may be left out; another one is converted
    yield element("unitpenalty", {}, "0")
    yield element("showunits", {}, SHOWN_AS_TYPED if units else "3")
    yield element("unitsleft", {}, "0")


def _number(value: str, tolerance: str, fraction: float, feedback: str) -> Markup:
    return element(
        "answer",
        {"fraction": _fraction(fraction), "format": "moodle_auto_format"},
        _text(value),
        _html("feedback", [feedback]),
        element("tolerance", {}, tolerance),
    )


def _multichoice(item: Item) -> Iterator[Markup]:
    yield element("single", {}, "false" if item.is_several else "true")
    yield element("shuffleanswers", {}, "false")
    yield element("answernumbering", {}, "ABCD")
    rights = len([each for each in item.choices if each.right])
    for choice in item.choices:
        yield _choice(choice, item, rights)


def _choice(choice: Choice, item: Item, rights: int) -> Markup:
    """A right one has its share. Of several, a wrong one takes as much away as all wrong share."""
    fraction = 100 / rights if choice.right else 0.0
    if item.is_several and not choice.right:
        fraction = -100 / (len(item.choices) - rights)
    return element(
        "answer",
        {"fraction": _fraction(fraction), "format": "html"},
        _text(str(element("p", {}, choice.text))),
        _html("feedback", [choice.feedback]),
    )


def _fraction(percent: float) -> str:
    """As Moodle writes its own.

    >>> _fraction(100), _fraction(100 / 3), _fraction(-50)
    ('100', '33.33333', '-50')
    """
    return f"{percent:.5f}".rstrip("0").rstrip(".")
