"""What would settle a verdict that is too close to call, from what its uncertainty is made of."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calcs.engine.findings import Compare, Run
from calcs.engine.rounding import short_number
from calcs.engine.traced import Traced, UncertaintyParts, si
from calcs.engine.uncertainty import COVERAGE, as_difference, contributions, in_unit
from calcs.engine.units import Q, join_unit

COUNTS = 0.05  # share of the variance from which a figure is worth improving
MOST_FIGURES = 3  # that a sentence can name
FINEST = 0.05  # of the uncertainty there is: no instrument that is carried is so much better
LONGEST = 20.0  # times the run that was made: beyond it nobody waits
MINUTE, TENS = 60.0, 10.0


@dataclass(frozen=True)
class Contribution:
    """A figure or a reading, and what the verdict's uncertainty takes from it.

    Args:
        label: What the form calls it.
        value: The figure, which carries its own uncertainty.
        expanded: What it adds to the expanded uncertainty of the comparison, in SI base units.
        parts: What its own uncertainty is made of, if an instrument gave it.
    """

    label: str
    value: Traced
    expanded: float
    parts: UncertaintyParts | None

    @property
    def is_read(self) -> bool:
        """Whether the reader could know it better by reading it again."""
        return self.parts is not None or self.value.role == "input"

    @property
    def step_share(self) -> float:
        """How much of its variance is from the step of its instrument."""
        if self.parts is None:
            return 0.0
        step, accuracy = self.parts.step**2, self.parts.accuracy**2
        return step / (step + accuracy) if step + accuracy else 0.0


def contributions_to(finding: Compare, compared: Q) -> list[Contribution]:
    """What a comparison's uncertainty comes from, the weightiest first.

    None where the formula brought an uncertainty whose origin nothing tells.
    """
    found, reading = contributions(compared), finding.reading
    if finding.expanded is not None:
        whole = si(finding.expanded)
        # One that leaves out how the tables are printed (`expanded_of_readings`).
        found = [
            (one, expanded) for one, expanded in contributions(reading) if one.role != "figure"
        ]
        if not math.isclose(math.sqrt(math.fsum(w * w for _, w in found)), whole, rel_tol=1e-6):
            is_read = isinstance(reading, Traced) and reading.uncertainty_parts is not None
            found = [(reading, whole)] if is_read else []
    figures = [
        Contribution(one.label or "", one, expanded, one.uncertainty_parts)
        for one, expanded in found
        if expanded > 0
    ]
    return sorted(figures, key=lambda one: -one.expanded)


def what_settles(
    finding: Compare, *, compared: Q, needed: Q, is_decided: bool, words: Mapping[str, str]
) -> str:
    """Sentences that say what would settle it.

    Args:
        finding: The comparison.
        compared: What carries its uncertainty.
        needed: The uncertainty that would settle it; nought where none does.
        is_decided: The rule has given a verdict all the same. Then nothing is said where nothing
            would make it surer.
        words: `judged` of content/_words.yaml.
    """
    goal = si(needed)
    if goal <= 0:
        return "" if is_decided else words["settles_nothing"]
    figures, told = contributions_to(finding, compared), []
    if finding.run is not None:
        longer = longer_run(finding.run, figures, goal)
        if longer is not None:
            return words["settles_run"].format(time=in_words(longer))
        told.append(words["settles_no_run"])
    unit = finding.unit or finding.reading.units
    in_all = join_unit(rounded_down(in_unit(needed, unit)), unit)
    better, is_possible = _better(figures, goal, words)
    if is_decided and not is_possible:
        return ""
    better = better or words["settles_whole"].format(width=in_all)
    return " ".join(filter(None, (*told, _counts_most(figures, words), better)))


def longer_run(run: Run, figures: Sequence[Contribution], needed: float) -> float | None:
    """Seconds that a run must take for an uncertainty; None where length alone will not do.

    In a run that is n times as long the steps of its instruments weigh one nth. What its
    instruments are off in percent, and every other figure, weighs the same.
    """
    steps = math.fsum(
        one.expanded**2 * one.step_share
        for one in figures
        if one.parts is not None and one.parts.instrument in run.instruments
    )
    others = math.fsum(one.expanded**2 for one in figures) - steps
    spare = needed**2 - others
    if spare <= 0 or steps > spare * LONGEST**2:
        return None
    return si(run.elapsed) * max(1.0, math.sqrt(steps / spare))


def in_words(seconds: float) -> str:
    """A length of time to give a run, upwards to what a person would time.

    >>> in_words(61).replace(chr(160), " "), in_words(200).replace(chr(160), " ")
    ('70 s', '4 min')
    """
    if seconds <= 2 * MINUTE:
        return join_unit(f"{TENS * math.ceil(seconds / TENS - 1e-9):.0f}", "s")
    return join_unit(f"{math.ceil(seconds / MINUTE - 1e-9)}", "min")


def _counts_most(figures: Sequence[Contribution], words: Mapping[str, str]) -> str:
    """What weighs most: a figure, and of a reading the step or the accuracy of its instrument."""
    if not figures or not figures[0].label:
        return ""
    chief = max(figures, key=lambda one: one.expanded**2 * max(one.step_share, 1 - one.step_share))
    kind = "figure"
    if chief.parts is not None:
        kind = "step" if chief.step_share > 0.5 else "accuracy"
    return words[f"counts_{kind}"].format(figure=chief.label)


def _better(
    figures: Sequence[Contribution], needed: float, words: Mapping[str, str]
) -> tuple[str, bool]:
    """How good the readings that weigh would have to be, and whether any reading would do.

    Empty where they are too many to name.
    """
    whole = math.fsum(one.expanded**2 for one in figures)
    read = [one for one in figures if one.is_read]
    fixed = [one for one in figures if not one.is_read and one.label]
    if fixed and math.fsum(one.expanded**2 for one in read) <= whole - needed**2:
        return words["settles_no_reading"].format(figure=fixed[0].label), False
    few = [one for one in read if one.expanded**2 >= COUNTS * whole]
    for better in (few, read):
        improved = math.fsum(one.expanded**2 for one in better)
        spare = needed**2 - (whole - improved)
        if improved and spare > 0 and len(better) <= MOST_FIGURES:
            factor = min(1.0, math.sqrt(spare / improved))
            if factor < FINEST:
                return words["settles_hardly"], False
            return _named(better, factor, words), True
    return "", True


def _named(better: Sequence[Contribution], factor: float, words: Mapping[str, str]) -> str:
    widths = [_own_width(one, factor) for one in better]
    if len(better) == 1 and better[0].parts is not None:
        return words["settles_instrument"].format(width=widths[0])
    named = [
        words["good_to"].format(figure=one.label, width=width)
        for one, width in zip(better, widths, strict=True)
    ]
    return words["settles_readings"].format(figures=_listed(named, words["and"]))


def _own_width(figure: Contribution, factor: float) -> str:
    """Expanded uncertainty that a figure would need, in its own unit."""
    own = figure.value.standard_uncertainty
    standard = as_difference(figure.expanded / COVERAGE, figure.value) if own is None else own
    needed = in_unit(standard * COVERAGE * factor, figure.value.units)
    return join_unit(rounded_down(needed), figure.value.units)


def _listed(parts: Sequence[str], last: str) -> str:
    return f" {last} ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def rounded_down(width: float) -> str:
    """An uncertainty that is asked for, with two digits that count, and never more than it is.

    >>> rounded_down(0.0987), rounded_down(0.3 - 1e-15), rounded_down(1234.0)
    ('0.098', '0.3', '1200')
    """
    if width <= 0:
        return "0"
    step = 10.0 ** (math.floor(math.log10(width)) - 1)
    return short_number(math.floor(width / step * (1 + 1e-9)) * step, 2)
