"""How well the loss along a path of pipes is known: by its lengths, its gas and its bores."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from calcs.domain.pipes.pipe_catalogue import Tube
from calcs.domain.pipes.pipe_flow import Gas, Pipe, friction_loss, reynolds_number
from calcs.domain.pipes.pipe_run import Run


def path_uncertainty(
    run: Run, laid: Sequence[tuple[Pipe, Tube]], places: Sequence[int]
) -> tuple[float, float]:
    """Standard uncertainty, in Pa, of the friction along a path and of its gain by height.

    Args:
        run: Who feeds whom, and what flows.
        laid: Pipe and tube of each section.
        places: Sections of the path.
    """
    lengths = [
        friction_loss(run.flows[place], pipe, run.gas)
        / pipe.length
        * run.tree.length_uncertainties[place]
        for place, pipe in ((place, laid[place][0]) for place in places)
    ]
    bores = _by_bores(run.gas, [(run.flows[place], *laid[place]) for place in places])
    rises = [run.lift * run.tree.rise_uncertainties[place] for place in places]
    return _quadrature([*bores, *lengths]), _quadrature(rises)


def by_calorific_value(run: Run, path: Sequence[tuple[int, Pipe]]) -> float:
    """What the uncertainty about the calorific value makes of the friction along a path, in Pa.

    Less heat in the gas is more gas for the same heat, in every section at once.
    """
    if not run.value_uncertainty:
        return 0.0
    total = 0.0
    for place, pipe in path:
        flow, more = run.flows[place], run.heat[place] / run.value * run.value_uncertainty
        # The law of the flow stays as it is, as where the bore may be off.
        smooth = reynolds_number(flow, pipe, run.gas) < run.gas.transition
        law = replace(run.gas, transition=math.inf if smooth else 0.0)
        greater, less = (friction_loss(flow + step, pipe, law) for step in (more, -more))
        total += (greater - less) / 2
    return total


def _quadrature(uncertainties: Sequence[float]) -> float:
    return math.sqrt(math.fsum(uncertainty * uncertainty for uncertainty in uncertainties))


def _by_bores(gas: Gas, path: Sequence[tuple[float, Pipe, Tube]]) -> list[float]:
    """What the uncertainty about each bore makes of the friction along a path, in Pa.

    Tubes of one size are taken to be off together, as tubes of one make are; different sizes add
    in quadrature (JCGM 100, 5.1.2 and 5.2.2).

    Args:
        gas: What flows.
        path: Flow in m³/s, pipe and tube of each section.
    """
    by_size: dict[str, float] = {}
    for flow, pipe, tube in path:
        if tube.bore_uncertainty:
            # The law of the flow stays as it is: a narrower bore must not switch it over.
            smooth = reynolds_number(flow, pipe, gas) < gas.transition
            law = replace(gas, transition=math.inf if smooth else 0.0)
            narrow, wide = (
                friction_loss(flow, replace(pipe, bore=pipe.bore + step), law)
                for step in (-tube.bore_uncertainty, tube.bore_uncertainty)
            )
            by_size[tube.text] = by_size.get(tube.text, 0.0) + (narrow - wide) / 2
    return list(by_size.values())
