"""Whether flue gas condenses: its temperature beside its dew point."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.engine.findings import Finding, Note
from calcs.engine.rounding import round_half_up
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

CONDENSING_NOTES = ("dry_flue", "at_dew_point", "condensing", "rules_leave_out")


def condensing_notes(flue: Q, answers: Mapping[str, Q]) -> list[Finding]:
    """What to know of flue gas at that temperature; nothing where its dew point is not known.

    Args:
        flue: Temperature of the flue gas as it leaves. [degC]
        answers: Takes `dew_point` and `efficiency_net`.
    """
    dew = answers.get("dew_point")
    if dew is None:
        return []
    values = {
        "dew_point": join_unit(round_half_up(dew.to("degC").magnitude, 1), "degC"),
        "net": join_unit(round_half_up(answers["efficiency_net"].magnitude, 1), "percent"),
    }
    above = flue.to("kelvin") - dew.to("kelvin")
    if abs(above) < expanded(above):
        return [Note("at_dew_point", values)]
    if above.magnitude >= 0:
        return [Note("dry_flue", values)]
    return [Note("condensing", values), Note("rules_leave_out")]
