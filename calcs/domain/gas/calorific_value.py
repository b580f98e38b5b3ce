"""Heat in a volume of gas as a form asks for it, and the figures that a flow of gas rests on."""

from __future__ import annotations

from calcs.engine.declarations import STATED, Input, When

# In the order in which a page lists them.
FLOW_USES = (
    "gas.*.calorific_value_gross",
    "gas.*.density",
    "gas.*.viscosity",
    "gas.*.relative_density",
    "air.density",
    "physics.gravity",
)


def heat_in_volume(
    name: str,
    default: str | None = None,
    *,
    low: float = 30,
    when: When | None = None,
    uncertainty: str = STATED,
    good_to: str | None = None,
) -> Input:
    """The field of a calorific value or a Wobbe number, from bills, labels and gas analyses.

    Args:
        name: Parameter of the formula.
        default: Figure used when it is left empty.
        low: Smallest value that the form accepts, in MJ/m³.
        when: The choice under which it counts.
        uncertainty: `STATED` or `WRITTEN`.
        good_to: Input with the share of it that it is good to within.
    """
    return Input(
        name,
        "MJ/m**3",
        low=low,
        high=150,
        also=("kWh/m**3", "Btu/ft**3"),
        default=default,
        when=when,
        uncertainty=uncertainty,
        good_to=good_to,
    )
