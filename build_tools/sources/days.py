"""The day of the build, and the days on which figures change."""

import os
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any

UNDATED = "undated"  # practice that has no first day


def build_day() -> date:
    """The day this edition is built: SOURCE_DATE_EPOCH where it is set, else today.

    It is the day in Greenwich, so that two who build at one time build the same.
    """
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    return datetime.fromtimestamp(int(epoch), UTC).date() if epoch else datetime.now(UTC).date()


def example_day(bundle: Mapping[str, Any], day: date) -> date:
    """The day that worked examples are judged on: the last one on which a figure changed.

    What is in force on it is in force on `day` too. An example that went by `day` itself would make
    its page and the runtime's snapshot another file on each day, for every device to fetch.
    """
    kept = (*bundle["figures"].values(), *bundle["tables"].values())
    values = [value for each in kept for value in each["values"]]
    days = [date.fromisoformat(text) for value in values if (text := first_day(value))]
    last = [date.fromisoformat(value["until"]) for value in values if value.get("until")]
    days += [each + timedelta(days=1) for each in last]
    return max((each for each in days if each <= day), default=day)


def parse_day(text: str) -> date | None:
    """The day that is written; None where the calendar has none of that name."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def first_day(dated_value: Mapping[str, Any]) -> str:
    """First day of a dated value; empty, which orders before every day, where it is undated."""
    start = str(dated_value.get("from") or "")
    return "" if start == UNDATED else start


def in_force(values: list[Mapping[str, Any]], day: date) -> Mapping[str, Any] | None:
    """The dated value of a history that holds on a day. ISO dates order as text."""
    text = day.isoformat()
    fits = [each for each in values if first_day(each) <= text <= (each.get("until") or "9999")]
    return max(fits, key=first_day, default=None)
