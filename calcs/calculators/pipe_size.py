"""Pipe size: the smallest tubes with which every appliance gets its gas."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from calcs.charts.pipe_pressure_loss import ALONG, loss_chart
from calcs.domain.pipes.path_uncertainty import by_calorific_value, path_uncertainty
from calcs.domain.pipes.pipe_catalogue import MATERIALS
from calcs.domain.pipes.pipe_network import losses
from calcs.domain.pipes.pipe_plan import (
    KEPT_WIDE,
    SMALLER,
    Plan,
    offered_tubes,
    plan_of,
    rows_kept_wide,
    smaller_table,
)
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
    Run,
    run_of,
)
from calcs.domain.pipes.pipe_sizing import smallest_set
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
from calcs.domain.pipes.pipe_tables import PASCALS, PATHS, SECTIONS
from calcs.engine.declarations import STATED, Calculator, Choice, Input, Output, Rows
from calcs.engine.findings import Finding, Note
from calcs.engine.traced import named
from calcs.engine.units import Q, Quantity, parse_unit

NEVER_NARROWER, ANY_WIDTH = "never_narrower", "any_width"


def pipe_size(
    *,
    sections: Sequence[Mapping[str, Any]],
    material: str,
    least_size: Q | None = None,
    towards_meter: str = NEVER_NARROWER,
    gas: str,
    calorific_value: Q,
    fittings_by: str,
    permitted_loss: Q,
    ref: Any,
) -> dict[str, Q | None]:
    """The set of tubes with the least length times size that keeps every path within its loss.

    No tube of it is narrower than one that continues from it, unless that is asked for.

    Args:
        sections: Rows: row joined, length, fittings, rise and load of each section.
        material: "copper", "steel" or "polyethylene".
        least_size: Smallest tube to use. [mm]
        towards_meter: "never_narrower" or "any_width": whether a tube may be narrower than one
            that continues from it.
        gas: "natural_gas", "propane" or "butane".
        calorific_value: On the same basis as the loads, net or gross. [MJ/m**3]
        fittings_by: "edition_in_force" or "edition_before": whose added lengths count.
        permitted_loss: From the meter to any appliance. [mbar]
        ref: Uses the gas, tubes, roughness and added lengths in force.

    Returns:
        size: Size of a section, by row. [mm]
        load: Load that a section of the worst path carries, by row. [kW]
        flow: Flow in it, by row. [m**3/h]
        length: Its length with fittings, by row. [m]
        bore: Its bore, by row. [mm]
        section_loss: Its loss by friction, by row. [mbar]
        friction_loss: Loss by friction along the worst path. [mbar]
        height_gain: Pressure gained by height along it. [mbar]
        largest_size: Largest tube of the set. [mm]
        smallest_size: Smallest tube of the set. [mm]
        worst_loss: What the worst-off appliance is then short of the meter. [mbar]
        loss_one_smaller: The same with every tube one size smaller. [mbar]
        total_flow: Flow from the meter. [m**3/h]
        flow_at_limit: Flow from the meter, all loads grown alike, with which the worst path just
            loses what is permitted. [m**3/h]

    Raises:
        Impossible: No tube keeps the loss, or the rows do not lead from the meter to the loads.
        NotHeld: The added length of a fitting is not held for the tubes that would be needed.

    Not covered: tubes of several materials in one run, medium pressure, and room for appliances
    that may come later.

    >>> from calcs.engine.worked_example import in_force
    >>> figures = {"gas.natural_gas.density": "1.0 kg/m³", "gas.natural_gas.viscosity": "1e-5 Pa*s"}
    >>> figures |= {"pipe.transition_reynolds": "1600", "pipe.roughness.copper": "0 m"}
    >>> exact = {"wall": "1 mm", "diameter_tolerance": "0 mm", "wall_tolerance": "0 mm"}
    >>> bores = {"15 mm": "10 mm", "22 mm": "20 mm"}
    >>> copper = [{"size": size, "bore": bore, **exact} for size, bore in bores.items()]
    >>> ref = in_force(figures, {"copper_tube": copper})
    >>> sized = pipe_size(
    ...     sections=[{"length": Quantity(10, "m"), "load": Quantity(0.36, "m**3/h")}],
    ...     material="copper",
    ...     gas="natural_gas",
    ...     calorific_value=Quantity(36, "MJ/m**3"),
    ...     fittings_by="edition_in_force",
    ...     permitted_loss=Quantity(0.3, "mbar"),
    ...     ref=ref,
    ... )
    >>> sized["largest_size"].magnitude  # smooth flow: a bore of half the size loses 16 × 2.5465 Pa
    22.0
    >>> round(sized["loss_one_smaller"].to("Pa").magnitude, 4)
    40.7437
    """
    run = run_of(sections, gas, calorific_value, ref)
    plan = plan_of(
        run,
        sections,
        offered=offered_tubes(material, least_size, ref),
        by=fittings_by,
        permitted=permitted_loss,
        ref=ref,
    )
    chosen = smallest_set(run.tree, plan.offer, tapers=towards_meter == NEVER_NARROWER)
    if chosen is None:
        raise plan.refusal()
    steps = worst_path_steps(
        run,
        plan.laid(chosen),
        gas=gas,
        value=calorific_value,
        permitted=permitted_loss,
        ref=ref,
    )
    del steps["worst_flow"]
    return steps | _sizes(run, plan, chosen)


def _sizes(run: Run, plan: Plan, chosen: list[int]) -> dict[str, Q | None]:
    """Size of each section, and what the run would lose with every tube one size smaller."""
    unit = parse_unit("mm")
    sizes = [Quantity(plan.tubes[size].size, unit) for size in chosen]
    smaller = [max(0, size - 1) for size in chosen]
    known = smaller != chosen and plan.able(smaller)
    return {
        **{f"size_{row}": size for row, size in zip(run.tree.rows, sizes, strict=True)},
        "largest_size": max(sizes),
        "smallest_size": min(sizes),
        "loss_one_smaller": _loss(run, plan, smaller) if known else None,
    }


def _loss(run: Run, plan: Plan, sizes: list[int]) -> Q:
    """What the worst-off appliance is short of the meter in these sizes."""
    laid = plan.laid(sizes)
    found = losses(run.tree, run.flows, [pipe for pipe, _ in laid], run.gas, run.lift)
    lost = named(Quantity(found.net[found.worst] / PASCALS, "mbar"), "loss_one_smaller", "")
    path = run.tree.path(found.worst)
    by_value = by_calorific_value(run, [(place, laid[place][0]) for place in path])
    uncertainties = (*path_uncertainty(run, laid, path), by_value)
    lost.standard_uncertainty = Quantity(
        math.sqrt(math.fsum(one * one for one in uncertainties)), "Pa"
    )
    return lost


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The set against the permitted loss, and what each tube would do one size smaller."""
    run = run_of(given["sections"], given["gas"], given["calorific_value"], ref)
    sizes = [answers[f"size_{row}"].magnitude for row in run.tree.rows]
    offered = offered_tubes(given["material"], given["least_size"], ref)
    places = {tube.size: place for place, tube in enumerate(offered)}
    chosen = [places[size] for size in sizes]
    plan = plan_of(
        run,
        given["sections"],
        offered=offered,
        by=given["fittings_by"],
        permitted=given["permitted_loss"],
        ref=ref,
        around=chosen,
    )
    findings = path_findings(
        run, plan.laid(chosen), given=given, answers=answers, chart=loss_chart, ref=ref
    )
    if kept_wide := rows_kept_wide(run, plan, chosen):
        findings.append(Note(KEPT_WIDE, {"rows": ", ".join(map(str, kept_wide))}))
    return [*findings, smaller_table(run, plan, chosen)]


CALCULATOR = Calculator(
    formula=pipe_size,
    inputs=(
        Rows("sections", (JOINS, LENGTH, *COUNTS, ADDED_LENGTH, RISE, LOAD)),
        Choice("material", MATERIALS, default="copper"),
        Input("least_size", "mm", low=4, high=400, optional=True, uncertainty=STATED),
        Choice("towards_meter", (NEVER_NARROWER, ANY_WIDTH), default=NEVER_NARROWER),
        *COMMON,
    ),
    outputs=(
        Output("largest_size", "mm", places=0, no_uncertainty_reason="size"),
        Output("smallest_size", "mm", places=0, no_uncertainty_reason="size"),
        WORST_LOSS,
        Output("loss_one_smaller", "mbar", places=2),
        *PARTS_OF_LOSS,
        *FLOWS,
    ),
    sources=SOURCES,
    uses=USES,
    judge=judge,
    verdicts=VERDICTS,
    notes=(*NOTES, KEPT_WIDE),
    rulings=RULINGS,
    refusals=(*RUN_REFUSALS, "largest_loses_more", "none_as_large"),
    tables=(SECTIONS, PATHS, SMALLER),
    charts=(ALONG,),
)
