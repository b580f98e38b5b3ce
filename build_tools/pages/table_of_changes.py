"""What changed and when: the dated values of the figures and tables, by the day they begin."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby, pairwise
from typing import Any

from build_tools.pages.page_context import PageContext, measure
from calcs.engine.written_day import written_day

# In the order that a reader needs them: what to act on first.
KINDS = ("changed", "to_look_up", "ended", "same")


@dataclass(frozen=True)
class Change:
    """One figure on the day that another took its place, or that it ended."""

    name: str
    label: str
    day: str
    kind: str
    was: str
    now: str
    edition: str | None


def by_day(page_context: PageContext) -> list[dict[str, Any]]:
    """Every day on which something changed, the latest first, with what did."""
    changes = sorted(_all(page_context), key=lambda each: (each.day, each.label.casefold()))
    days = [(day, list(group)) for day, group in groupby(changes, key=lambda each: each.day)]
    return [
        {
            "id": f"since-{day}",
            "title": f"From {written_day(date.fromisoformat(day))}{_to_come(day, page_context)}",
            "kinds": {kind: [each for each in group if each.kind == kind] for kind in KINDS},
        }
        for day, group in reversed(days)
    ]


def _to_come(day: str, page_context: PageContext) -> str:
    return ", still to come" if day > page_context.day.isoformat() else ""


def _all(page_context: PageContext) -> Iterator[Change]:
    for name, figure in page_context.figures.items():
        yield from _of(name, page_context.labels[name], figure["values"])
    for stem, table in page_context.bundle["tables"].items():
        yield from _of(f"table.{stem}", table["title"], table["values"])


def _of(name: str, label: str, values: list[Mapping[str, Any]]) -> Iterator[Change]:
    """Each dated value against the one before it, and the end of the last."""
    dated_values = sorted(values, key=lambda each: str(each["from"]))
    for old, new in pairwise(dated_values):
        was, now = _text(old), _text(new)
        kind = "same" if was == now else "changed" if now else "to_look_up"
        if was or now:
            yield Change(name, label, new["from"], kind, was, now, new["edition"])
    last = dated_values[-1]
    if last.get("until") and _text(last):
        day = date.fromisoformat(last["until"]) + timedelta(days=1)
        yield Change(name, label, day.isoformat(), "ended", _text(last), "", last["edition"])


def _text(dated_value: Mapping[str, Any]) -> str:
    """A figure as the trade writes it, or how many rows a table has; empty where none is held."""
    if dated_value.get("rows"):
        return f"{len(dated_value['rows'])} rows"
    return measure(dated_value["value"]) if dated_value.get("value") else ""
