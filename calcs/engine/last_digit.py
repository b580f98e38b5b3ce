"""The last digit of a number as it was typed or printed."""

from __future__ import annotations

import re

_LAST_NUMBER = re.compile(r"(?:^|:)[+−-]?\d*(?:\.(\d*))?(?:[eE]([+-]?\d+))?", re.ASCII)


def last_place(text: str) -> float:
    """What one more in the last digit of a number is worth, in the unit that it stands in.

    Args:
        text: A number as it was typed or printed, with or without its unit; of minutes and seconds
            on a clock the seconds count.

    >>> [last_place(text) for text in ("16 m", "16.0", "1.796e-5 Pa*s", "2:01")]
    [1.0, 0.1, 1e-08, 1.0]
    """
    decimals, power = _LAST_NUMBER.findall(text.strip())[-1]
    # Read from its text, a power of ten is the same on every machine; `**` need not be.
    return float(f"1e{int(power or 0) - len(decimals)}")
