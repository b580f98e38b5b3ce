"""pint as it comes, to hold the project's own registry against."""

from __future__ import annotations

from functools import cache

import pint


@cache
def plain_pint() -> pint.UnitRegistry[float]:
    """A registry that this project has not touched. Its units are read when a test first asks."""
    return pint.UnitRegistry()
