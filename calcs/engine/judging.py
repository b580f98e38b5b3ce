"""A reading against its limits: the outcome, by which rule, and how sure."""

from __future__ import annotations

from dataclasses import dataclass

from calcs.engine.decide import beyond, ceiling, decide
from calcs.engine.findings import Compare
from calcs.engine.given import Given
from calcs.engine.traced import Traced, si
from calcs.engine.uncertainty import as_difference, expanded
from calcs.engine.units import Q

WHOLE = 1.0  # of the uncertainty


@dataclass(frozen=True)
class Judged:
    """What was decided of a reading.

    Args:
        outcome: "meets", "does_not_meet" or "cannot_tell".
        rule: The decision rule: "full", "iso_14253" or "simple".
        guard_ratio: How much of the uncertainty had to be clear of the limit.
        expanded_uncertainty: Expanded uncertainty of the comparison.
        compared: The quantity that it belongs to.
        most: Greatest uncertainty with which a pass is given.
        is_close: The limit is within the uncertainty of the reading.
        is_coarse: The uncertainty is above `most`.
    """

    outcome: str
    rule: str
    guard_ratio: float
    expanded_uncertainty: Q
    compared: Q
    most: Q
    is_close: bool
    is_coarse: bool


def judge(finding: Compare, given: Given) -> Judged:
    """A reading against its limits, by the rule that the verdict declares or the reader chose."""
    rule = given.rule(finding.rule)
    guard_ratio = float(given.in_force.text(f"decision.guard_{rule}"))
    compared = _compared(finding)
    expanded_uncertainty = finding.expanded if finding.expanded is not None else expanded(compared)
    bounds = (finding.reading, finding.low, finding.high)
    most = ceiling(*bounds, finding.span)
    surely = decide(*bounds, WHOLE, expanded_uncertainty, strict=finding.strict)
    return Judged(
        outcome=decide(
            *bounds, guard_ratio, expanded_uncertainty, strict=finding.strict, most=most
        ),
        rule=rule,
        guard_ratio=guard_ratio,
        expanded_uncertainty=expanded_uncertainty,
        compared=compared,
        most=as_difference(most, finding.reading),
        is_close=bool(expanded_uncertainty.magnitude) and surely == "cannot_tell",
        is_coarse=beyond(expanded_uncertainty, most),
    )


def _compared(finding: Compare) -> Q:
    """What has the uncertainty of the comparison: a limit that was worked out has its own.

    The difference is traced, so what reading and limit have in common counts once.
    """
    limits = [limit for limit in (finding.low, finding.high) if isinstance(limit, Traced)]
    differences = [finding.reading - limit for limit in limits]
    return max(differences, key=lambda one: si(expanded(one)), default=finding.reading)
