"""Dates are days of the calendar; a history runs forward and no two of its values overlap."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from build_tools.sources.days import UNDATED
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.rule import Rule

DAY = timedelta(days=1)
KEYS = ("from", "until", "published", "in_force_from", "in_force_until")
SPANS = (("from", "until"), ("in_force_from", "in_force_until"))


def check(project: Project) -> Iterator[Problem]:
    """Look at each day, each span and each history."""
    for document in project.of_kind("limits", "gases", "table", "sources"):
        for key_path, text in document.texts():
            if (
                key_path[-1] in KEYS
                and _day(text) is None
                and not _is_first_and_undated(key_path, text)
            ):
                found, fix = f"'{text}' is no day of the calendar.", "write a day as in 2026-10-01"
                yield document.problem(key_path, found, "", fix)
    for document in project.of_kind("sources"):
        for name, source in document.value.items():
            yield from _span(document, (name,), source)
    for document in project.of_kind("table"):
        yield from _history(document, ("values",), document.value.get("values"))
    for document in project.of_kind("limits", "gases"):
        for name, figure in document.value.items():
            values = figure.get("values") if isinstance(figure, dict) else None
            yield from _history(document, (name, "values"), values)


def _history(document: Document, key_path: KeyPath, values: Any) -> Iterator[Problem]:
    earlier: dict[str, Any] = {}
    for number, dated_value in enumerate(values if isinstance(values, list) else ()):
        here = (*key_path, number)
        yield from _span(document, here, dated_value)
        start, ended = _start(dated_value), _day(_get(earlier, "until"))
        if start is None or (number and start == date.min):
            continue
        place = (*here, "from")
        before = _start(earlier)
        if before is not None and start <= before:
            found = f"This entry starts on {start}, not after the one above it, {before}."
            yield document.problem(place, found, "", "put the oldest entry first")
        elif earlier and _get(earlier, "until") is None:
            found = "The entry above this one has no last day, so both hold at once."
            fix = "give the entry above an 'until', the day before this one starts"
            yield document.problem(place, found, "", fix)
        elif ended is not None and start <= ended:
            found = f"This entry starts on {start}; the one above it ends on {ended}."
            yield document.problem(place, found, "", "let one end the day before the next starts")
        elif ended is not None and start > ended + DAY:
            yield _gap(document, place, ended + DAY, start - DAY)
        earlier = dated_value


def _gap(document: Document, place: KeyPath, first: date, last: date) -> Problem:
    days = f"on {first}" if first == last else f"from {first} to {last}"
    found = f"Nothing holds {days}, between the entry above this one and this one."
    fix = "let one end the day before the next starts, or add an entry with the provenance not-held"
    return document.problem(place, found, "A history has no gap.", fix)


def _span(document: Document, key_path: KeyPath, holder: Any) -> Iterator[Problem]:
    for first, last in SPANS:
        start, end = _day(_get(holder, first)), _day(_get(holder, last))
        if start is not None and end is not None and end < start:
            found = f"'{last}', {end}, is before '{first}', {start}."
            yield document.problem((*key_path, last), found, "", "put the two days right")


def _is_first_and_undated(key_path: KeyPath, text: str) -> bool:
    return text == UNDATED and key_path[-1] == "from" and key_path[-2] == 0


def _start(dated_value: Any) -> date | None:
    text = _get(dated_value, "from")
    return date.min if text == UNDATED else _day(text)


def _get(holder: Any, key: str) -> str | None:
    value = holder.get(key) if isinstance(holder, dict) else None
    return value if isinstance(value, str) else None


def _day(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text or "")
    except ValueError:
        return None


RULE = Rule("dates", "Days are real, and histories run forward without overlap.", check)
