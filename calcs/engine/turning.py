"""Which way an adjuster is turned, where the reader's card of the appliance says what that does."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from calcs.engine.held_to import Known

OTHER_WAY = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}


class Turn(NamedTuple):
    """What to do first, and why."""

    act: str
    reason: str


def turn(
    turns: Mapping[str, str] | None, side: str, known: Known, words: Mapping[str, Any]
) -> Turn | None:
    """The turn that brings a reading back, None where no card says it.

    Args:
        turns: What the step says of its adjuster: `by`, the reading that holds the card's word, and
            `also`, what is to be heeded besides.
        side: "low" or "high", as the reading came out; empty where it is neither.
        known: What the visit knows.
        words: `raising`, by the card's word the way that raises; `acts` by way; `reason`.
    """
    if not turns or not side:
        return None
    said = str((known.typed.get(turns["by"]) or {}).get("value") or "").strip()
    raising = words["raising"].get(said)
    if raising is None:  # no card, or a word of another edition
        return None
    way = raising if side == "low" else OTHER_WAY[raising]
    reason = str(words["reason"]).format(said=said)
    return Turn(str(words["acts"][way]), " ".join(filter(None, (reason, turns.get("also")))))
