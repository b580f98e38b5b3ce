"""What was measured, over what it was measured against, as a table and as JSON."""

import math
import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from build_tools.bench.asked import ROWS, Row

SHARE = 0.95  # the share of keystrokes that a 95th percentile leaves below it


@dataclass(frozen=True)
class Figure:
    """One measured figure. Its ratio alone is judged.

    Args:
        kind: Its row in `asked.ROWS`.
        ratio: What was measured, over what was measured beside it.
        told: The absolute figure that a reader is promised, in words. It is not judged.
        of: Which calculator, page or edit.
        detail: What lies behind it, a line each.
        samples: Every value that went into it.
    """

    kind: str
    ratio: float
    told: str = ""
    of: str = ""
    detail: tuple[str, ...] = ()
    samples: dict[str, list[float]] = field(default_factory=dict)

    @property
    def row(self) -> Row:
        """What is asked of it."""
        return ROWS[self.kind]

    @property
    def name(self) -> str:
        """What was measured."""
        return f"{self.row.name}, {self.of}" if self.of else self.row.name

    @property
    def is_reached(self) -> bool:
        """Whether the ratio is as good as asked."""
        asked = self.row.asked
        return self.ratio >= asked if self.row.better == "more" else self.ratio <= asked

    def as_json(self) -> dict[str, Any]:
        """All of it, the samples too."""
        return {
            "name": self.name,
            "against": self.row.against,
            "ratio": self.ratio,
            "asked": self.row.asked,
            "better": self.row.better,
            "because": self.row.because,
            "reached": self.is_reached,
            "told": self.told,
            "promised": self.row.promised,
            "detail": list(self.detail),
            "samples": self.samples,
        }


def table(figures: Iterable[Figure]) -> list[str]:
    """Lines for a person: each ratio, what was asked, and what lies behind it."""
    lines = []
    for figure in figures:
        row = figure.row
        limit = "at least" if row.better == "more" else "at most"
        verdict = "reached" if figure.is_reached else f"NOT REACHED: {row.because}"
        asked = f"asked: {limit} {row.asked:g}"
        lines.append(f"{figure.name:<56}{figure.ratio:>7.2f} times  {asked:<21}{verdict}")
        lines.append(f"    against {row.against}")
        if figure.told:
            promised = f"; promised: {row.promised}" if row.promised else ""
            lines.append(f"    here {figure.told}{promised} (told, not judged)")
        lines.extend(f"    {line}" for line in figure.detail)
    return [line.rstrip() for line in lines]


def ratio_by_turns(measured: Sequence[float], beside: Sequence[float]) -> float:
    """The middle one of the ratios of each turn: a slow minute slows both of its turns alike."""
    return statistics.median(one / other for one, other in zip(measured, beside, strict=True))


def percentile(values: Sequence[float]) -> float:
    """The smallest value that 95 of 100 do not exceed."""
    return sorted(values)[math.ceil(SHARE * len(values)) - 1]


def spread(values: Sequence[float]) -> str:
    """Median and range in words."""
    middle = statistics.median(values)
    digits = 0 if middle > 10 else 1
    said = f"{middle:.{digits}f} ms, {min(values):.{digits}f} to {max(values):.{digits}f} ms"
    return f"median {said}, n = {len(values)}"
