"""Which figures of an edition change after the day on which it was built, and when."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Any

from build_tools.sources.days import first_day, in_force


def after(bundle: Mapping[str, Any], day: date) -> list[dict[str, str]]:
    """The first change of each figure and table after `day`: its day and its label.

    A page shows what was in force on the day of its build. From the day of a change on, it must
    say that it no longer is.
    """
    found = [
        {"day": change.isoformat(), "label": label}
        for label, values in _histories(bundle)
        if (change := first_change(values, day)) is not None
    ]
    return sorted(found, key=lambda each: (each["day"], each["label"]))


def first_change(values: list[Mapping[str, Any]], day: date) -> date | None:
    """The first day after `day` on which another dated value holds, or none does."""
    now = in_force(values, day)
    begins = [date.fromisoformat(str(each["from"])) for each in values if first_day(each)]
    ends = [date.fromisoformat(now["until"]) + timedelta(days=1)] if now and now["until"] else []
    return min((each for each in [*begins, *ends] if each > day), default=None)


def _histories(bundle: Mapping[str, Any]) -> Iterator[tuple[str, list[Mapping[str, Any]]]]:
    for name, figure in bundle["figures"].items():
        yield figure["label"] or name, figure["values"]
    for stem, table in bundle["tables"].items():
        yield table["title"] or stem, table["values"]
