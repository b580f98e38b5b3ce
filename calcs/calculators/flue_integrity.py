"""Flue integrity: the air duct of a room-sealed concentric flue, by a sample taken from it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.flue.flue_fit import duct_fits, is_air
from calcs.domain.plausibility.ordinary import ordinary
from calcs.engine.declarations import Calculator, Cite, Input, Instrument, Output
from calcs.engine.errors import Impossible
from calcs.engine.findings import SETTING, Compare, Finding, Note, Ruling
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

OXYGEN, CARBON_DIOXIDE = "flue_integrity.oxygen_low", "flue_integrity.carbon_dioxide_high"
AIR = "combustion.air_oxygen_instrument"
HALF = 0.5
GREATEST_CARBON_DIOXIDE = "combustion.carbon_dioxide_max.*"


def flue_integrity(
    *,
    duct_oxygen_dry: Q,
    duct_carbon_dioxide_dry: Q,
    flue_oxygen_dry: Q | None = None,
    flue_carbon_dioxide_dry: Q | None = None,
    ref: Mapping[str, Q],
) -> dict[str, Q | None]:
    """How much of the air that the burner draws has been through it before.

    Args:
        duct_oxygen_dry: Oxygen in the air duct. [percent]
        duct_carbon_dioxide_dry: Carbon dioxide in the air duct. [percent]
        flue_oxygen_dry: Oxygen in the flue gas. [percent]
        flue_carbon_dioxide_dry: Carbon dioxide in the flue gas. [percent]
        ref: Uses `combustion.air_oxygen_instrument` and the greatest carbon dioxide of each gas.

    Returns:
        oxygen_short: Fresh air less the duct. [percent]
        share_by_oxygen: Flue gas in the duct's air, by oxygen. [percent]
        share_by_carbon_dioxide: The same by carbon dioxide. [percent]

    Raises:
        Impossible: The duct holds more oxygen than fresh air, or less than the flue, or the flue's
            sample can't be told from fresh air.

    Not covered: separate flue and air ducts, and where the leak is.

    >>> from calcs.engine.units import Quantity
    >>> leak = flue_integrity(
    ...     duct_oxygen_dry=Quantity(20, "percent"),
    ...     duct_carbon_dioxide_dry=Quantity(0.5, "percent"),
    ...     flue_oxygen_dry=Quantity(5, "percent"),
    ...     ref={AIR: Quantity(21, "percent"), OXYGEN: Quantity(20.5, "percent")},
    ... )
    >>> leak["share_by_oxygen"].magnitude
    6.25
    """
    fresh = ref[AIR]
    oxygen_short = fresh - duct_oxygen_dry
    # Air has no more. A cell that shows more by half of what the level leaves is off by as much.
    most = min(si(expanded(oxygen_short)), HALF * (si(fresh) - si(ref[OXYGEN])))
    if -si(oxygen_short) > most * (1 + 1e-9):
        raise Impossible("duct_oxygen_dry", "above_fresh_air")
    share_by_oxygen = share_by_carbon_dioxide = None
    untrue = _is_untrue(fresh, flue_oxygen_dry, flue_carbon_dioxide_dry, ref)
    if flue_oxygen_dry is not None and not untrue:
        burnt = fresh - flue_oxygen_dry
        if si(burnt) <= si(expanded(burnt)):
            raise Impossible("flue_oxygen_dry", "flue_is_fresh_air")
        between = duct_oxygen_dry - flue_oxygen_dry
        if si(between) < -si(expanded(between)):
            raise Impossible("duct_oxygen_dry", "swapped")
        share_by_oxygen = (oxygen_short / burnt).to("percent")
    if flue_carbon_dioxide_dry is not None and not untrue:
        share = duct_carbon_dioxide_dry / flue_carbon_dioxide_dry
        share_by_carbon_dioxide = share.to("percent")
    return {
        "oxygen_short": oxygen_short,
        "share_by_oxygen": share_by_oxygen,
        "share_by_carbon_dioxide": share_by_carbon_dioxide,
    }


def _is_untrue(fresh: Q, oxygen: Q | None, carbon_dioxide: Q | None, ref: Mapping[str, Q]) -> bool:
    """Whether oxygen and carbon dioxide of the flue fit no gas."""
    if oxygen is None or carbon_dioxide is None:
        return False
    return not duct_fits(fresh - oxygen, carbon_dioxide, ref)


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Both readings must pass; two that contradict each other are no ground to judge either.

    Neither passes beside a flue sample that can't be true or is air. The same analyser and hose
    took both, so clean air from the duct may be clean air from a leak in the hose.

    The flow chart's levels are for what an ordinary analyser shows. Its uncertainty is as wide as
    they are: counted in full, no duct could pass, the best one included. So the levels are taken as
    they read, and an analyser that is coarser than an ordinary one passes nothing.
    """
    flue_sample = _flue_sample(given["flue_oxygen_dry"], given["flue_carbon_dioxide_dry"], ref)
    if not duct_fits(answers["oxygen_short"], given["duct_carbon_dioxide_dry"], ref):
        return [
            Ruling("oxygen", "not_judged", "two_stories", (OXYGEN,)),
            Ruling("carbon_dioxide", "not_judged", "two_stories", (CARBON_DIOXIDE,)),
            *flue_sample,
        ]
    findings: list[Finding] = [
        Compare(
            "oxygen",
            given["duct_oxygen_dry"],
            low=ref[OXYGEN],
            figures=(OXYGEN,),
            places=2,
            rule=SETTING,
            span=ordinary("analyser_oxygen", ref[OXYGEN], ref),
        ),
        Compare(
            "carbon_dioxide",
            given["duct_carbon_dioxide_dry"],
            high=ref[CARBON_DIOXIDE],
            figures=(CARBON_DIOXIDE,),
            places=2,
            strict=True,
            rule=SETTING,
            span=ordinary("analyser_carbon_dioxide", ref[CARBON_DIOXIDE], ref),
        ),
        *flue_sample,
    ]
    shares = [answers.get(f"share_by_{gas}") for gas in ("oxygen", "carbon_dioxide")]
    if shares[0] is not None and shares[1] is not None:
        apart = shares[0] - shares[1]
        if abs(apart) > expanded(apart):
            findings.append(Note("shares_differ"))
    return findings


def _flue_sample(oxygen: Q | None, carbon_dioxide: Q | None, ref: Any) -> list[Finding]:
    """That the sample of the flue proves nothing, where it does not."""
    if _is_untrue(ref[AIR], oxygen, carbon_dioxide, ref):
        return [Ruling("flue_sample", "not_judged", "flue_untrue")]
    if is_air(oxygen, carbon_dioxide, ref) or _is_as_clean_as_a_duct(oxygen, carbon_dioxide, ref):
        return [Ruling("flue_sample", "not_judged", "flue_is_air")]
    return []


def _is_as_clean_as_a_duct(oxygen: Q | None, carbon_dioxide: Q | None, ref: Any) -> bool:
    """Whether the flue's sample can't be told from one that a sound duct gives."""
    least, most = si(ref[OXYGEN]), si(ref[CARBON_DIOXIDE])
    return bool(
        (oxygen is not None and si(oxygen) + si(expanded(oxygen)) >= least)
        or (
            carbon_dioxide is not None and si(carbon_dioxide) - si(expanded(carbon_dioxide)) <= most
        )
    )


CALCULATOR = Calculator(
    formula=flue_integrity,
    inputs=(
        Input("duct_oxygen_dry", "percent", 0, 21.5, read_with="oxygen_cell"),
        Input("duct_carbon_dioxide_dry", "percent", 0, 15, read_with="carbon_dioxide_cell"),
        Input("flue_oxygen_dry", "percent", 0, 21.5, optional=True, read_with="oxygen_cell"),
        Input(
            "flue_carbon_dioxide_dry",
            "percent",
            low=0.5,
            high=15,
            optional=True,
            read_with="carbon_dioxide_cell",
        ),
        Instrument("oxygen_cell", "oxygen", "percent", "analyser_oxygen", 20),
        Instrument(
            "carbon_dioxide_cell", "carbon_dioxide", "percent", "analyser_carbon_dioxide", 20
        ),
    ),
    outputs=(
        Output("oxygen_short", "percent", places=2),
        Output("share_by_oxygen", "percent", places=1),
        Output("share_by_carbon_dioxide", "percent", places=1),
    ),
    sources=(Cite("technical_bulletin_143", "flow chart, as a boiler manual prints it"),),
    uses=(OXYGEN, CARBON_DIOXIDE, AIR, GREATEST_CARBON_DIOXIDE),
    judge=judge,
    verdicts=("oxygen", "carbon_dioxide", "flue_sample"),
    notes=("shares_differ",),
    rulings=("two_stories", "flue_untrue", "flue_is_air"),
    refusals=("above_fresh_air", "flue_is_fresh_air", "swapped"),
    rests_on={"oxygen": ("flue_sample",), "carbon_dioxide": ("flue_sample",)},
)
