"""Pipe pressure loss: a branched run from the meter to each appliance, section by section."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from operator import add
from typing import Any

from calcs.core import (
    Calculator,
    Choice,
    Cite,
    Compare,
    Finding,
    Input,
    Note,
    Output,
    Rows,
    When,
)
from calcs.pipe_catalogue import MATERIALS
from calcs.pipe_flow import Pipe, friction_loss, reynolds_number
from calcs.pipe_network import losses, share_at_limit
from calcs.pipe_run import (
    ADDED_LENGTH,
    COMMON,
    COUNTS,
    JOINS,
    LENGTH,
    LIMIT,
    LOAD,
    RISE,
    USES,
    Run,
    lay,
    lift_of,
    path_uncertainty,
    run_of,
    teaching_rule,
)
from calcs.pipe_tables import PATHS, SECTIONS, path_table, section_table
from calcs.traced import apply, named, si
from calcs.units import Q, Quantity


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
    pipes = [pipe for pipe, _ in laid]
    found = losses(run.tree, run.flows, pipes, run.gas, run.lift)
    path = run.tree.path(found.worst)
    results: dict[str, Q | None] = {}
    for place in path:
        results |= _section(place, run, pipes[place], calorific_value)
    friction: Q = reduce(add, (results[f"section_loss_{run.tree.rows[place]}"] for place in path))
    on_path = [(run.flows[place], pipes[place]) for place in path]
    spread = path_uncertainty(run.gas, on_path, [laid[place][1] for place in path])
    friction.standard_uncertainty = Quantity(spread, "Pa")
    rise = Quantity(sum(run.tree.rises[place] for place in path), "m")
    gain = (lift_of(gas, ref) * rise).to("mbar") if rise.magnitude else None
    return results | {
        "friction_loss": friction,
        "height_gain": gain,
        "worst_loss": friction if gain is None else friction - gain,
        "worst_flow": Quantity(run.own_flow(found.worst), "m**3/s").to("m**3/h"),
        "total_flow": Quantity(run.total, "m**3/s").to("m**3/h"),
        "flow_at_limit": _at_limit(run, on_path, spread, permitted_loss, gain),
    }


def _section(place: int, run: Run, pipe: Pipe, calorific_value: Q) -> dict[str, Q | None]:
    """Load, flow and loss of one section, as the working shows them."""
    row, heat, volume = run.tree.rows[place], run.heat[place], run.volume[place]
    typed = Quantity(volume, "m**3/s").to("m**3/h")
    load = _shown("load", row, Quantity(heat, "W").to("kW")) if heat else None
    flow = _shown("flow", row, typed) if load is None else (load / calorific_value).to("m**3/h")
    if load is not None and volume:
        flow = flow + typed
    length = _shown("length", row, Quantity(pipe.length, "m"))
    bore = _shown("bore", row, Quantity(pipe.bore, "m").to("mm"))

    def lost(flow: float, length: float, bore: float) -> float:
        return friction_loss(flow, Pipe(length, bore, pipe.roughness), run.gas)

    loss = apply("Darcy–Weisbach, friction by Colebrook", lost, flow, length, bore, unit="mbar")
    steps = {"load": load, "flow": flow, "length": length, "bore": bore, "section_loss": loss}
    return {f"{name}_{row}": value for name, value in steps.items()}


def _shown(name: str, row: int, value: Q) -> Q:
    return named(value, f"{name}_{row}", f"{name} {row}", role="input")


def _at_limit(
    run: Run, path: Sequence[tuple[float, Pipe]], spread: float, permitted_loss: Q, gain: Q | None
) -> Q:
    flows, pipes = [flow for flow, _ in path], [pipe for _, pipe in path]
    lifted = 0.0 if gain is None else si(gain)

    def flow_of(permitted: float) -> float:
        return run.total * share_at_limit(flows, pipes, run.gas, permitted + lifted)

    found = apply("flow at which the worst path loses", flow_of, permitted_loss, unit="m**3/h")

    def friction(share: float) -> float:
        return sum(friction_loss(share * flow, pipe, run.gas) for flow, pipe in path)

    # The loss goes with the flow to a power, one in smooth flow and near two in turbulent flow.
    reached = si(found) / run.total
    power = (friction(1.001 * reached) / friction(0.999 * reached) - 1) / 0.002 if reached else 1.0
    found.standard_uncertainty = abs(found) * (spread / friction(1) / power)
    return found


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The worst path against the permitted loss, with every section and every path shown."""
    run = run_of(given["sections"], given["gas"], given["calorific_value"], ref)
    laid = lay(given["sections"], given["fittings_by"], ref)
    pipes = [pipe for pipe, _ in laid]
    found = losses(run.tree, run.flows, pipes, run.gas, run.lift)
    path = run.tree.path(found.worst)
    limit = given["permitted_loss"]
    records = (LIMIT.format_map(given),) if limit.role == "record" else ()
    findings: list[Finding] = [
        Compare("worst_path", answers["worst_loss"], None, limit, records, places=2),
        section_table(run, laid, found),
        path_table(run, pipes, found, si(limit)),
        teaching_rule(
            [(run.flows[place], pipes[place].length, pipes[place].bore) for place in path],
            given["gas"],
            ref,
        ),
    ]
    end_of_smooth = si(ref["pipe.laminar_reynolds"])
    unsettled = [
        f"{row}"
        for row, flow, pipe in zip(run.tree.rows, run.flows, pipes, strict=True)
        if run.gas.transition <= reynolds_number(flow, pipe, run.gas) < end_of_smooth
    ]
    if unsettled:
        findings.append(Note("unsettled_flow", {"rows": ", ".join(unsettled)}))
    return findings


OF_TABLE, OTHER = When("material", MATERIALS), When("material", ("other",))

CALCULATOR = Calculator(
    formula=pipe_pressure_loss,
    inputs=(
        Rows(
            "sections",
            (
                JOINS,
                Choice("material", (*MATERIALS, "other"), default="copper"),
                Input("size", "mm", low=4, high=400, when=OF_TABLE),
                Input("bore", "mm", low=2, high=500, also=("inch",), when=OTHER),
                Input("roughness", "mm", low=0, high=1, also=("µm",), when=OTHER),
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
        Output("worst_loss", "mbar", places=2),
        Output("friction_loss", "mbar", places=2),
        Output("height_gain", "mbar", places=2),
        Output("worst_flow", "m**3/h", places=3),
        Output("total_flow", "m**3/h", places=3),
        Output("flow_at_limit", "m**3/h", places=3),
    ),
    sources=(
        Cite("fluid_mechanics", "Darcy–Weisbach; friction factor of Colebrook"),
        Cite("en_1057", "bores of copper tube"),
        Cite("bs_6891_2015", "permitted loss, added lengths"),
    ),
    uses=USES,
    judge=judge,
    verdicts=("worst_path",),
    notes=("teaching_rule", "unsettled_flow"),
    tables=(SECTIONS, PATHS),
)
