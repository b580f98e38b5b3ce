"""Dates are days of the calendar; a history runs forward and no two of its values overlap."""

from collections.abc import Iterator
from datetime import date, timedelta

from build_tools.sources.days import UNDATED, parse_day
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

DAY = timedelta(days=1)
KEYS = ("from", "until", "published", "in_force_from", "in_force_until")
SPANS = (("from", "until"), ("in_force_from", "in_force_until"))


def check(project: Project) -> Iterator[Problem]:
    """Look at each day, each span and each history."""
    for whole in project.nodes("limits", "gases", "table", "sources"):
        for node in (each for each in whole.texts() if each.key in KEYS):
            if parse_day(node.text) is None and not _is_first_and_undated(node):
                found = f"'{node.text}' is no day of the calendar."
                yield node.problem(found, "", "write a day as in 2026-10-01")
    for source in project.each("sources", ...):
        yield from _span(source)
    for values in project.each("table", "values"):
        yield from _history(values)
    for values in project.each(("limits", "gases"), ..., "values"):
        yield from _history(values)


def _history(values: Node) -> Iterator[Problem]:
    earlier: Node | None = None
    for number, dated_value in enumerate(values.items()):
        yield from _span(dated_value)
        start = _start(dated_value)
        if start is None or (number and start == date.min):
            continue
        if earlier is not None:
            yield from _after(earlier, dated_value["from"], start)
        earlier = dated_value


def _after(earlier: Node, place: Node, start: date) -> Iterator[Problem]:
    """A dated value against the one above it: later, with neither a gap nor a day of both."""
    before, ended = _start(earlier), parse_day(earlier["until"].text)
    if before is not None and start <= before:
        found = f"This value starts on {start}, not after the one above it, {before}."
        yield place.problem(found, "", "put the oldest value first")
    elif not earlier["until"].text:
        found = "The value above this one has no last day, so both hold at once."
        fix = "give the value above an 'until', the day before this one starts"
        yield place.problem(found, "", fix)
    elif ended is not None and start <= ended:
        found = f"This value starts on {start}; the one above it ends on {ended}."
        yield place.problem(found, "", "let one end the day before the next starts")
    elif ended is not None and start > ended + DAY:
        yield _gap(place, ended + DAY, start - DAY)


def _gap(place: Node, first: date, last: date) -> Problem:
    days = f"on {first}" if first == last else f"from {first} to {last}"
    found = f"Nothing holds {days}, between the value above this one and this one."
    fix = "let one end the day before the next starts, or add a value with the provenance not-held"
    return place.problem(found, "A history has no gap.", fix)


def _span(holder: Node) -> Iterator[Problem]:
    for first, last in SPANS:
        start, end = parse_day(holder[first].text), parse_day(holder[last].text)
        if start is not None and end is not None and end < start:
            found = f"'{last}', {end}, is before '{first}', {start}."
            yield holder[last].problem(found, "", "put the two days right")


def _is_first_and_undated(node: Node) -> bool:
    return node.text == UNDATED and node.key == "from" and node.key_path[-2] == 0


def _start(dated_value: Node) -> date | None:
    start = dated_value["from"]
    return date.min if start.text == UNDATED else parse_day(start.text)
