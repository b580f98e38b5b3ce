"""What was measured, against what was asked, as a table and as JSON."""

import math
import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

SHARE = 0.95  # the share of keystrokes that a 95th percentile leaves below it


@dataclass(frozen=True)
class Figure:
    """One measured figure.

    Args:
        name: What was measured.
        value: What came out.
        unit: Its unit.
        asked: What the design asks, if anything.
        better: Whether more or less of it is better.
        detail: What lies behind it, a line each.
        samples: Every value that went into it.
    """

    name: str
    value: float
    unit: str
    asked: float | None = None
    better: Literal["more", "less"] = "less"
    detail: tuple[str, ...] = ()
    samples: dict[str, list[float]] = field(default_factory=dict)

    @property
    def is_reached(self) -> bool:
        """Whether it is as good as asked."""
        if self.asked is None:
            return True
        return self.value >= self.asked if self.better == "more" else self.value <= self.asked

    def as_json(self) -> dict[str, Any]:
        """All of it, the samples too."""
        return {
            "name": self.name,
            "value": self.value,
            "unit": self.unit,
            "asked": self.asked,
            "reached": self.is_reached,
            "detail": list(self.detail),
            "samples": self.samples,
        }


def table(figures: Iterable[Figure]) -> list[str]:
    """Lines for a person: each figure, what was asked, and what lies behind it."""
    lines = []
    for figure in figures:
        limit = "at least" if figure.better == "more" else "at most"
        asked = "" if figure.asked is None else f"asked: {limit} {figure.asked:g} {figure.unit}"
        mark = "" if figure.asked is None else "reached" if figure.is_reached else "NOT REACHED"
        lines.append(f"{figure.name:<48}{figure.value:>9.1f} {figure.unit:<6} {asked:<28}{mark}")
        lines.extend(f"    {line}" for line in figure.detail)
    return [line.rstrip() for line in lines]


def percentile(values: Sequence[float]) -> float:
    """The smallest value that 95 of 100 do not exceed."""
    return sorted(values)[math.ceil(SHARE * len(values)) - 1]


def spread(values: Sequence[float]) -> str:
    """Median and range in words."""
    middle = statistics.median(values)
    return f"median {middle:.0f} ms, {min(values):.0f} to {max(values):.0f} ms, n = {len(values)}"
