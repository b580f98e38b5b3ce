"""The drawing of a question: its instruments, one under the other, and the same in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import ModuleType
from typing import Any

from calcs.practice.figures import Values
from calcs.practice.gauges import analyser, dial, digital, limb, meter, u_gauge, watch
from calcs.practice.gauges.sheet import Sheet
from calcs.practice.pack import LITERAL

INSTRUMENTS: dict[str, ModuleType] = {
    "u_gauge": u_gauge,
    "limb": limb,
    "digital": digital,
    "meter": meter,
    "dial": dial,
    "watch": watch,
    "analyser": analyser,
}


def drawing(
    shows: Sequence[Mapping[str, Any]], values: Values, *, solved: bool = False
) -> dict[str, str]:
    """What a question shows.

    Args:
        shows: Each instrument with what stands behind each of its parts, as a template says it.
        values: The figures that are named there.
        solved: With what has to be seen on it marked.

    Returns:
        `svg`, and `words` for whoever does not see it: the same observation and never the answer.
    """
    sheet = Sheet()
    told = []
    for each in shows:
        instrument = INSTRUMENTS[each["instrument"]]
        given = {key: _given(behind, values) for key, behind in each.items()}
        instrument.draw(sheet, given, solved=solved)
        told.append(instrument.words(given))
    words = " ".join(told)
    return {"svg": sheet.svg(words), "words": words}


def _given(behind: str, values: Values) -> str:
    if behind.startswith(LITERAL):
        return behind.removeprefix(LITERAL)
    return values.get(behind, behind)
