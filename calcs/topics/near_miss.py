"""Whether a figure is what was expected, once a slip of the pen is taken out of it."""

from __future__ import annotations

# By its adjustment a burner, a governor or a gauge may be this far off; what is further is a slip.
LEAST, MOST = 0.7, 1.4


def is_near(share: float) -> bool:
    """Whether a reading is near to the usual one.

    Args:
        share: The reading over the usual one.

    >>> is_near(1.0), is_near(0.1), is_near(10 * 0.1)
    (True, False, True)
    """
    return LEAST <= share <= MOST
