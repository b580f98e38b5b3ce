"""The working of a pipe answer: every step along the worst path, and what is said of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from functools import reduce
from operator import add
from typing import Any

from calcs.domain.gas.calorific_value import is_unlike, range_of, range_text
from calcs.domain.pipes.path_uncertainty import by_calorific_value, path_uncertainty
from calcs.domain.pipes.pipe_catalogue import Tube
from calcs.domain.pipes.pipe_flow import Pipe, friction_loss, reynolds_number
from calcs.domain.pipes.pipe_network import Losses, losses, share_at_limit
from calcs.domain.pipes.pipe_run import LIMIT, LPG_CODE_LIMIT, Run, lift_of, teaching_rule
from calcs.domain.pipes.pipe_tables import HOUR, path_table, section_table
from calcs.engine.chart import Chart
from calcs.engine.declarations import Cite, Output
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.no_uncertainty import GIVEN
from calcs.engine.traced import Traced, si
from calcs.engine.traced_functions import apply
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, Quantity, join_unit, parse_unit

# What every page about a run of pipes answers, says and rests on.
WORST_LOSS = Output("worst_loss", "mbar", places=2)
PARTS_OF_LOSS = (
    Output("friction_loss", "mbar", places=2),
    Output("height_gain", "mbar", places=2),
)
FLOWS = (
    Output("total_flow", "m**3/h", places=3, no_uncertainty_reason=GIVEN),
    Output("flow_at_limit", "m**3/h", places=3),
)
SOURCES = (
    Cite("fluid_mechanics", "Darcy–Weisbach; friction factor of Colebrook"),
    Cite("en_1057", "sizes and bores of copper tube"),
    Cite("bs_6891_2015", "permitted loss, added lengths"),
)
MARGIN = "pipe.smooth_flow_margin"
VERDICTS = ("worst_path",)
RULINGS = ("looser_than_held", "value_of_another_gas")
NOTES = ("teaching_rule", "unsettled_flow", "smooth_flow")


def worst_path_steps(
    run: Run, laid: Sequence[tuple[Pipe, Tube]], *, gas: str, value: Q, permitted: Q, ref: Any
) -> dict[str, Q | None]:
    """Load, flow and loss of each section on the way to the worst-off appliance, and their sum.

    Args:
        run: Who feeds whom, and what flows.
        laid: Pipe and tube of each section.
        gas: Id of the gas.
        value: Calorific value on the basis of the loads.
        permitted: Permitted loss.
        ref: Figures in force.
    """
    pipes = [pipe for pipe, _ in laid]
    found = losses(run.tree, run.flows, pipes, run.gas, run.lift)
    path = run.tree.path(found.worst)
    results: dict[str, Q | None] = {}
    for place in path:
        results |= _section(place, run, pipes[place], value)
    friction: Q = reduce(add, (results[f"section_loss_{run.tree.rows[place]}"] for place in path))
    on_path = [(run.flows[place], pipes[place]) for place in path]
    spread, lifted = path_uncertainty(run, laid, path)
    by_value = by_calorific_value(run, [(place, pipes[place]) for place in path])
    friction.standard_uncertainty = Quantity(math.sqrt(spread * spread + by_value * by_value), "Pa")
    rise = Quantity(math.fsum(run.tree.rises[place] for place in path), "m")
    gain = (lift_of(gas, ref) * rise).to("mbar") if rise.magnitude else None
    if isinstance(gain, Traced):
        gain.standard_uncertainty = Quantity(lifted, "Pa")
        spread = math.sqrt(spread * spread + lifted * lifted)
    return results | {
        "friction_loss": friction,
        "height_gain": gain,
        "worst_loss": friction if gain is None else friction - gain,
        "worst_flow": _flow(run, run.own_flow(found.worst), run.tree.heat[found.worst]),
        "total_flow": _flow(run, run.total, math.fsum(run.tree.heat)),
        "flow_at_limit": _at_limit(run, on_path, spread, permitted, gain),
    }


def _flow(run: Run, flow: float, heat: float) -> Q:
    """A flow in m³/s, with what the calorific value leaves open of its part that heat asks for."""
    found = Traced(Quantity(flow, "m**3/s").to("m**3/h").magnitude, parse_unit("m**3/h"))
    if run.value_uncertainty:
        found.standard_uncertainty = Quantity(heat / run.value * run.value_uncertainty, "m**3/s")
    return found


def _section(place: int, run: Run, pipe: Pipe, calorific_value: Q) -> dict[str, Q | None]:
    """Load, flow and loss of one section, as the working shows them."""
    row, heat, volume = run.tree.rows[place], run.heat[place], run.volume[place]
    typed = volume * HOUR
    if heat:
        load = _shown("load", row, heat / 1000, "kW")
        flow = (load / calorific_value).to("m**3/h")
        if volume:
            flow = flow + Quantity(typed, parse_unit("m**3/h"))
    else:
        load, flow = None, _shown("flow", row, typed, "m**3/h")
    length = _shown("length", row, pipe.length, "m")
    bore = _shown("bore", row, pipe.bore * 1000, "mm")

    def lost(flow: float, length: float, bore: float) -> float:
        return friction_loss(flow, Pipe(length, bore, pipe.roughness), run.gas)

    loss = apply("Darcy–Weisbach, friction by Colebrook", lost, flow, length, bore, unit="mbar")
    steps = {"load": load, "flow": flow, "length": length, "bore": bore, "section_loss": loss}
    return {f"{name}_{row}": value for name, value in steps.items()}


def _shown(name: str, row: int, value: float, unit: str) -> Q:
    shown = Traced(value, parse_unit(unit))
    shown.name, shown.label, shown.role = f"{name}_{row}", f"{name} {row}", "input"
    return shown


def _at_limit(
    run: Run, path: Sequence[tuple[float, Pipe]], spread: float, permitted_loss: Q, gain: Q | None
) -> Q:
    flows, pipes = [flow for flow, _ in path], [pipe for _, pipe in path]
    lifted = 0.0 if gain is None else si(gain)

    def flow_of(permitted: float) -> float:
        return run.total * share_at_limit(flows, pipes, run.gas, permitted + lifted)

    found = apply("flow at which the worst path loses", flow_of, permitted_loss, unit="m**3/h")

    def friction(share: float) -> float:
        return math.fsum(friction_loss(share * flow, pipe, run.gas) for flow, pipe in path)

    # The loss goes with the flow to a power, one in smooth flow and near two in turbulent flow.
    reached = si(found) / run.total
    power = (friction(1.001 * reached) / friction(0.999 * reached) - 1) / 0.002 if reached else 1.0
    found.standard_uncertainty = abs(found) * (spread / friction(1) / power)
    return found


def path_findings(
    run: Run,
    laid: Sequence[tuple[Pipe, Tube]],
    *,
    given: Mapping[str, Any],
    answers: Mapping[str, Q],
    chart: Callable[[Run, Sequence[Pipe], Losses, float, float], Chart],
    ref: Any,
) -> list[Finding]:
    """The worst path against the permitted loss, with every section and every path shown.

    Args:
        run: Who feeds whom, and what flows.
        laid: Pipe and tube of each section.
        given: The readings.
        answers: What the formula found.
        chart: Draws the run from its pipes, their losses, the permitted loss and the expanded
            uncertainty of the greatest, both in Pa.
        ref: Figures in force.
    """
    pipes = [pipe for pipe, _ in laid]
    found = losses(run.tree, run.flows, pipes, run.gas, run.lift)
    path = run.tree.path(found.worst)
    limit = given["permitted_loss"]
    findings: list[Finding] = [
        _against_the_limit(answers["worst_loss"], given, ref),
        section_table(run, laid, found),
        path_table(run, pipes, found, si(limit)),
        chart(run, pipes, found, si(limit), si(expanded(answers["worst_loss"]))),
        teaching_rule(
            [(run.flows[place], pipes[place].length, pipes[place].bore) for place in path],
            given["gas"],
            ref,
        ),
    ]
    return [*findings, *_kinds_of_flow(run, pipes, ref)]


def _against_the_limit(loss: Q, given: Mapping[str, Any], ref: Any) -> Finding:
    """The loss against what is permitted.

    What was typed may be looser than every rule held here, and then it passes nothing that they
    would not pass. Another country's rule is a reason to type one, so it is not refused.
    """
    typed, figure = given["permitted_loss"], LIMIT.format_map(given)
    if si(loss) <= si(typed) and (richer := _too_rich(given, figure, ref)):
        return richer
    if typed.role == "input":
        held = [figure, *([] if given["gas"] == "natural_gas" else [LPG_CODE_LIMIT])]
        most = max((ref[name] for name in held), key=si)
        if most < typed and si(loss) <= si(typed) and si(loss) + si(expanded(loss)) > si(most):
            said = {"most": join_unit(f"{most.to('mbar').magnitude:g}", "mbar")}
            return Ruling("worst_path", "not_judged", "looser_than_held", (figure,), said)
        ref.override(figure, typed)
    return Compare("worst_path", loss, None, typed, (figure,), places=2)


def _too_rich(given: Mapping[str, Any], figure: str, ref: Any) -> Ruling | None:
    """Why nothing is passed with this calorific value: with so much heat in it less gas would do.

    One that is too low makes the run carry more gas than it does, so it may be judged by that.
    """
    gas, basis, value = given["gas"], given["load_basis"], given["calorific_value"]
    if si(value) <= si(range_of(gas, basis, ref)[1]) or not is_unlike(value, gas, basis, ref):
        return None
    said = {**range_text(gas, basis, ref), "basis": basis}
    return Ruling("worst_path", "not_judged", "value_of_another_gas", (figure,), said)


def _kinds_of_flow(run: Run, pipes: Sequence[Pipe], ref: Any) -> list[Finding]:
    """The rows in which the flow may turn, and those in which it is smooth, by what is said."""
    unsettled, smooth = [], []
    end_of_smooth = si(ref["pipe.laminar_reynolds"])
    for row, flow, pipe in zip(run.tree.rows, run.flows, pipes, strict=True):
        number = reynolds_number(flow, pipe, run.gas)
        if run.gas.transition <= number < end_of_smooth:
            unsettled.append(f"{row}")
        elif 0 < number < run.gas.transition:
            smooth.append(f"{row}")
    findings: list[Finding] = []
    if unsettled:
        findings.append(Note("unsettled_flow", {"rows": ", ".join(unsettled)}))
    if smooth:
        margin = join_unit(f"{ref[MARGIN].magnitude:g}", "percent")
        findings.append(Note("smooth_flow", {"rows": ", ".join(smooth), "margin": margin}))
    return findings
