"""How set-up stops: what could not be done, what was found, what to do."""

from __future__ import annotations

from typing import Sequence


class SetUpStopped(Exception):
    """Set-up cannot go on. Its text is written for the person at the keyboard."""

    def __init__(self, what: str, *, fix: str, found: Sequence[str] = ()) -> None:
        """Say what could not be done and how to mend it; `found` is what a tool printed."""
        super().__init__("\n    ".join([f"Set-up stopped. {what}", *found]) + f"\nFix: {fix}")
