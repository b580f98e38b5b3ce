"""A day in words: no reader should have to wonder which figure is the month."""

from __future__ import annotations

from datetime import date

# Not strftime: its names follow the locale, and a day without a leading nought has no code in it
# that every system knows.
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def written_day(day: date) -> str:
    """A day as it is written in Britain.

    >>> written_day(date(2026, 10, 1))
    '1 October 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
