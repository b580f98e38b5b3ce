"""What several drawings of flues share: the analyser, flames, smoke."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from build_tools.diagrams.given import Figures
from build_tools.diagrams.kit import LINE, SMALL, Sheet
from build_tools.diagrams.svg import Point

GASES = {"oxygen": "O₂", "carbon_dioxide": "CO₂", "carbon_monoxide": "CO"}


@dataclass(frozen=True)
class Sample:
    """What the analyser shows, one line for each gas that a drawing names."""

    lines: tuple[str, ...]

    @classmethod
    def of(cls, params: Mapping[str, Any], figures: Figures) -> "Sample":
        """The gases that the params name, each with its figure."""
        named = [(gas, params[gas]) for gas in GASES if params[gas]]
        return cls(tuple(f"{GASES[gas]} {figures.text(name)}" for gas, name in named))


def analyser(sheet: Sheet, at: Point, sample: Sample) -> None:
    """A hand-held analyser from its upper left corner, with what it shows."""
    x, y = at
    height = 22 + LINE * len(sample.lines)
    sheet.rect("body", at, 116, height, corner=8)
    sheet.rect("line", (x + 6, y + 6), 104, height - 12, corner=4)
    sheet.lines(x + 12, y + 26, sample.lines, size=SMALL, bold=True)
    sheet.text(x + 58, y + height + 18, "Analyser", anchor="middle")


def flames(sheet: Sheet, along: Iterable[float], foot: float) -> None:
    """A row of flames on a burner."""
    places = list(along)
    for x in places:
        sheet.path("mark", f"M{x} {foot} v-8")
    sheet.polyline("line", (places[0] - 8, foot + 5), (places[-1] + 8, foot + 5))


def smoke(sheet: Sheet, puffs: Iterable[tuple[float, float, float]]) -> None:
    """Puffs of smoke, each by its middle and its radius."""
    for x, y, radius in puffs:
        sheet.circle("body", x, y, radius)
