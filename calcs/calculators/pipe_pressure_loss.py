"""Pipe pressure loss: a branched run from the meter to each appliance, section by section."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.charts.pipe_pressure_loss import ALONG, loss_chart
from calcs.domain.pipes.pipe_catalogue import MATERIALS
from calcs.domain.pipes.pipe_run import (
    ADDED_LENGTH,
    COMMON,
    COUNTS,
    JOINS,
    LENGTH,
    LOAD,
    RISE,
    RUN_REFUSALS,
    USES,
    lay,
    run_of,
)
from calcs.domain.pipes.pipe_steps import (
    FLOWS,
    NOTES,
    PARTS_OF_LOSS,
    RULINGS,
    SOURCES,
    VERDICTS,
    WORST_LOSS,
    path_findings,
    worst_path_steps,
)
from calcs.domain.pipes.pipe_tables import PATHS, SECTIONS
from calcs.engine.declarations import STATED, Calculator, Choice, Input, Output, Rows, When
from calcs.engine.findings import Finding
from calcs.engine.no_uncertainty import GIVEN
from calcs.engine.units import Q


def pipe_pressure_loss(
    *,
    sections: Sequence[Mapping[str, Any]],
    gas: str,
    calorific_value: Q,
    fittings_by: str,
    permitted_loss: Q,
    ref: Any,
) -> dict[str, Q | None]:
    """Pressure lost by the time the gas reaches the appliance that is worst off.

    Args:
        sections: Rows: row joined, tube, length, fittings, rise and load of each section.
        gas: "natural_gas", "propane" or "butane".
        calorific_value: On the same basis as the loads, net or gross. [MJ/m**3]
        fittings_by: "edition_in_force" or "edition_before": whose added lengths count.
        permitted_loss: From the meter to any appliance. [mbar]
        ref: Uses the gas, tubes, roughness and added lengths in force.

    Returns:
        load: Load that a section of the worst path carries, by row. [kW]
        flow: Flow in it, by row. [m**3/h]
        length: Its length with fittings, by row. [m]
        bore: Its bore, by row. [mm]
        section_loss: Its loss by friction, by row. [mbar]
        friction_loss: Loss by friction along the worst path. [mbar]
        height_gain: Pressure gained by height along it. [mbar]
        worst_loss: What that appliance is short of the meter. [mbar]
        worst_flow: Flow to that appliance. [m**3/h]
        total_flow: Flow from the meter. [m**3/h]
        flow_at_limit: Flow from the meter, all loads grown alike, with which the worst path just
            loses what is permitted. [m**3/h]

    Raises:
        Impossible: A size is not made, or the rows do not lead from the meter to the loads.
        NotHeld: The added length of a fitting is not held.

    Not covered: medium pressure, where the density changes along the pipe, meters and valves that
    lose pressure of their own, and appliances that never burn together.

    >>> from calcs.engine.units import Quantity
    >>> ref = {
    ...     "gas.natural_gas.density": Quantity(1.0, "kg/m**3"),
    ...     "gas.natural_gas.viscosity": Quantity(1e-5, "Pa*s"),
    ...     "gas.natural_gas.relative_density": Quantity(1, ""),
    ...     "air.density": Quantity(1.0, "kg/m**3"),
    ...     "physics.gravity": Quantity(10, "m/s**2"),
    ...     "pipe.transition_reynolds": Quantity(1600, ""),
    ... }
    >>> smooth = pipe_pressure_loss(
    ...     sections=[
    ...         {
    ...             "material": "other",
    ...             "bore": Quantity(20, "mm"),
    ...             "roughness": Quantity(0, "mm"),
    ...             "length": Quantity(10, "m"),
    ...             "load": Quantity(0.36, "m**3/h"),
    ...         }
    ...     ],
    ...     gas="natural_gas",
    ...     calorific_value=Quantity(36, "MJ/m**3"),
    ...     fittings_by="edition_in_force",
    ...     permitted_loss=Quantity(1, "mbar"),
    ...     ref=ref,
    ... )
    >>> round(smooth["worst_loss"].to("Pa").magnitude, 6)  # 128 × 1e-5 × 10 × 1e-4 ÷ (π × 0.02⁴)
    2.546479
    """
    run = run_of(sections, gas, calorific_value, ref)
    laid = lay(sections, fittings_by, ref)
    return worst_path_steps(
        run, laid, gas=gas, value=calorific_value, permitted=permitted_loss, ref=ref
    )


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The worst path against the permitted loss, with every section and every path shown."""
    run = run_of(given["sections"], given["gas"], given["calorific_value"], ref)
    laid = lay(given["sections"], given["fittings_by"], ref)
    return path_findings(run, laid, given=given, answers=answers, chart=loss_chart, ref=ref)


OF_TABLE, OTHER = When("material", MATERIALS), When("material", ("other",))

CALCULATOR = Calculator(
    formula=pipe_pressure_loss,
    inputs=(
        Rows(
            "sections",
            (
                JOINS,
                Choice("material", (*MATERIALS, "other"), default="copper"),
                Input("size", "mm", low=4, high=400, when=OF_TABLE, uncertainty=STATED),
                Input(
                    "bore", "mm", low=2, high=500, also=("inch",), when=OTHER, uncertainty=STATED
                ),
                Input(
                    "roughness", "mm", low=0, high=1, also=("µm",), when=OTHER, uncertainty=STATED
                ),
                LENGTH,
                *COUNTS,
                ADDED_LENGTH,
                RISE,
                LOAD,
            ),
        ),
        *COMMON,
    ),
    outputs=(
        WORST_LOSS,
        *PARTS_OF_LOSS,
        Output("worst_flow", "m**3/h", places=3, no_uncertainty_reason=GIVEN),
        *FLOWS,
    ),
    sources=SOURCES,
    uses=USES,
    judge=judge,
    verdicts=VERDICTS,
    notes=NOTES,
    rulings=RULINGS,
    refusals=(*RUN_REFUSALS, "no_such_size"),
    tables=(SECTIONS, PATHS),
    charts=(ALONG,),
)
