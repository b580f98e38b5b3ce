"""The ends of a premix burner's range: what each sample says, and what is said of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calcs.domain.flue.flue_findings import level_findings, nothing_judged, of_no_flame
from calcs.domain.flue.flue_fit import INSTRUMENT_OXYGEN, exceeds, fit, why_untrue
from calcs.domain.flue.flue_levels import DIOXIDE_INSTRUCTIONS, Level, levels_of
from calcs.domain.flue.flue_sample import carbon_dioxide_of, instrument_maximum
from calcs.domain.gas.stoichiometry import Burning
from calcs.domain.plausibility.ordinary import ordinary
from calcs.engine.errors import Impossible, InputName
from calcs.engine.findings import SETTING, Compare, Finding, Ruling
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.traced_functions import largest
from calcs.engine.units import Q, Quantity, at_most, join_unit

ENDS = ("found_max", "found_min", "left_max", "left_min")
ANALYSER = {"carbon_dioxide": "analyser_carbon_dioxide", "oxygen": "analyser_oxygen"}


@dataclass(frozen=True)
class Sample:
    """One sample of dry flue gas at one end, with what the instructions want there.

    Args:
        end: One of `ENDS`.
        dioxide: Carbon dioxide, None if not read.
        oxygen: The same.
        monoxide: The same.
        target: Carbon dioxide or oxygen that the instructions give.
        by_oxygen: Whether they give oxygen.
    """

    end: str
    dioxide: Q | None
    oxygen: Q | None
    monoxide: Q | None
    target: Q | None
    by_oxygen: bool

    @property
    def is_empty(self) -> bool:
        """Whether neither oxygen nor carbon dioxide was read."""
        return self.dioxide is None and self.oxygen is None

    @property
    def judged(self) -> Q | None:
        """The gas that the instructions give."""
        return self.oxygen if self.by_oxygen else self.dioxide


def sample_at(end: str, typed: Mapping[str, Any]) -> Sample:
    """The sample at one end, from what was typed by name of input."""
    dioxide, oxygen, monoxide = (typed[f"{gas}_{end}"] for gas in ("dioxide", "oxygen", "monoxide"))
    target = typed[f"target_{end.partition('_')[2]}"]
    return Sample(end, dioxide, oxygen, monoxide, target, typed["target_gas"] == "oxygen")


def check_targets(typed: Mapping[str, Any], burning: Burning, fuel: str, ref: InForce) -> None:
    """Refuse a target that the gas can't reach, or a tolerance that would let nearly all by.

    Raises:
        Impossible: One of the two.
    """
    tolerance = typed["tolerance"]
    for name in ("target_max", "target_min"):
        target = typed[name]
        if target is None:
            continue
        if typed["target_gas"] == "carbon_dioxide":
            _check_reach(name, burning, fuel, target, ref)
        if tolerance is not None and 2 * tolerance >= target:
            raise Impossible("tolerance", "half_of_the_target", target=InputName(name))


def _check_reach(field: str, burning: Burning, fuel: str, carbon_dioxide: Q, ref: InForce) -> None:
    if exceeds(burning, fuel, carbon_dioxide, ref):
        most = join_unit(round_half_up(100 * si(burning.carbon_dioxide_max), 2), "percent")
        raise Impossible(field, "target_beyond_this_gas", most=most)


def end_results(sample: Sample, burning: Burning, fuel: str, ref: InForce) -> dict[str, Q | None]:
    """What one sample gives; of one that can't be true, only what shows that.

    Raises:
        Impossible: There is more carbon dioxide than the fuel can make.
    """
    end, dioxide, oxygen = sample.end, sample.dioxide, sample.oxygen
    maximum = instrument_maximum(fuel, burning, ref)
    belongs = carbon_dioxide_of(maximum, oxygen, ref).get("carbon_dioxide_instrument")
    difference = None
    if oxygen is not None and oxygen >= ref[INSTRUMENT_OXYGEN]:
        pass  # air, which judges nothing whatever else was read
    elif dioxide is not None and oxygen is not None:
        held = fit(burning, fuel, (oxygen, dioxide), ref, sample.monoxide)
        difference = held["oxygen_difference"]
    elif dioxide is not None:
        _check_reach(f"dioxide_{end}", burning, fuel, dioxide, ref)
    found: dict[str, Q | None] = {f"dioxide_of_{end}": belongs, f"difference_{end}": difference}
    if sample.is_empty or why_untrue(difference, oxygen, dioxide, ref):
        return found
    if sample.judged is not None and sample.target is not None:
        found[f"off_{end}"] = sample.judged - sample.target
    if sample.monoxide is not None:
        found[f"ratio_{end}"] = (sample.monoxide / (belongs if dioxide is None else dioxide)).to("")
    return found


def end_findings(
    sample: Sample, other: Sample, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce
) -> list[Finding]:
    """The verdicts of one end: target, ratio and carbon monoxide, of one and the same sample.

    Args:
        sample: The sample.
        other: That of the other end, in the same state.
        given: What was typed.
        answers: What the samples gave.
        ref: Uses the levels.
    """
    end, target = sample.end, f"target_{sample.end}"
    if sample.is_empty and sample.monoxide is None:
        if other.is_empty:
            return []
        return [Ruling(target, "not_judged", "other_end", (DIOXIDE_INSTRUCTIONS,))]
    own = [one._replace(name=f"{one.name}_{end}") for one in levels_of(given, ref)]
    held = [Level(target, None, (DIOXIDE_INSTRUCTIONS,)), *own]
    if reason := _unjudged(sample, answers, ref):
        dioxides = (sample.dioxide, answers.get(f"dioxide_of_{end}"))
        none = Quantity(0.0, "ppm")
        monoxide = none if sample.monoxide is None else sample.monoxide
        return nothing_judged(held, reason, monoxide, dioxides, ref)
    dioxide = answers[f"dioxide_of_{end}"] if sample.dioxide is None else sample.dioxide
    gases = sample.oxygen, dioxide, answers["carbon_dioxide_max"]
    ratio = answers[f"ratio_{end}"]
    found = level_findings(own, ratio, sample.monoxide, gases, ref, is_premix=True)
    judged = _target_finding(target, sample, given["tolerance"], ref)
    reason = of_no_flame(gases, ref, is_premix=True)
    if reason and _is_inside(judged):
        judged = Ruling(target, "not_judged", reason, (DIOXIDE_INSTRUCTIONS,))
    return [judged, *found]


def _is_inside(finding: Finding) -> bool:
    """Whether a setting is within its tolerance as it reads."""
    if not isinstance(finding, Compare) or finding.low is None or finding.high is None:
        return False
    return bool(at_most(finding.low, finding.reading) and at_most(finding.reading, finding.high))


def _unjudged(sample: Sample, answers: Mapping[str, Q], ref: InForce) -> str:
    if sample.is_empty:
        return "no_dioxide"
    difference = answers.get(f"difference_{sample.end}")
    untrue = why_untrue(difference, sample.oxygen, sample.dioxide, ref)
    return untrue or ("no_monoxide" if sample.monoxide is None else "")


def _target_finding(name: str, sample: Sample, tolerance: Q | None, ref: InForce) -> Finding:
    """What is set against a maker's target is taken as it reads, by an ordinary analyser at least.

    A tolerance is often narrower than the uncertainty of an ordinary analyser, and the maker means
    one.
    """
    reading, target, figures = sample.judged, sample.target, (DIOXIDE_INSTRUCTIONS,)
    if reading is None:
        return Ruling(name, "not_judged", "other_gas", figures)
    if target is None or tolerance is None:
        reason = "no_target" if target is None else "no_tolerance"
        return Ruling(name, "not_judged", reason, figures)
    analyser = ANALYSER["oxygen" if sample.by_oxygen else "carbon_dioxide"]
    span = largest(tolerance, ordinary(analyser, reading, ref))
    low, high = target - tolerance, target + tolerance
    return Compare(name, reading, low, high, figures, "percent", 1, rule=SETTING, span=span)
