"""The tables beside a pipe answer: each section of the run, and the path to each appliance."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calcs.domain.pipes.pipe_catalogue import Tube
from calcs.domain.pipes.pipe_flow import PI, Pipe, friction_factor, reynolds_number
from calcs.domain.pipes.pipe_network import Losses
from calcs.domain.pipes.pipe_run import Run
from calcs.engine.declarations import Output, TableShape
from calcs.engine.findings import Table

SECTIONS = TableShape(
    "sections",
    (
        Output("section", "", places=0),
        Output("tube", "", places=0),
        Output("flow", "m**3/h", places=3),
        Output("length", "m", places=2),
        Output("speed", "m/s", places=2),
        Output("reynolds_number", "", places=0),
        Output("friction_factor", "", places=4),
        Output("loss", "mbar", places=3),
        Output("gain", "mbar", places=3),
        Output("lost_so_far", "mbar", places=3),
    ),
)
PATHS = TableShape(
    "paths",
    (
        Output("section", "", places=0),
        Output("flow", "m**3/h", places=3),
        Output("length", "m", places=2),
        Output("friction", "mbar", places=3),
        Output("gain", "mbar", places=3),
        Output("loss", "mbar", places=3),
        Output("share", "percent", places=0),
    ),
)
PASCALS, HOUR = 100.0, 3600.0  # in an mbar, in seconds


def section_table(run: Run, laid: Sequence[tuple[Pipe, Tube]], found: Losses) -> Table:
    """One row for each section, in the reader's own order."""
    rows: list[dict[str, Any]] = []
    for place, (pipe, tube) in enumerate(laid):
        flow = run.flows[place]
        reynolds = reynolds_number(flow, pipe, run.gas)
        rows.append(
            {
                "section": f"{run.tree.rows[place]}",
                "tube": tube.text,
                "flow": flow * HOUR,
                "length": pipe.length,
                "speed": 4 * flow / (PI * pipe.bore * pipe.bore),
                "reynolds_number": reynolds,
                "friction_factor": friction_factor(
                    reynolds, pipe.roughness / pipe.bore, run.gas.transition
                ),
                "loss": found.friction[place] / PASCALS,
                "gain": found.gain[place] / PASCALS,
                "lost_so_far": found.net[place] / PASCALS,
            }
        )
    return Table(SECTIONS.name, tuple(rows))


def path_table(run: Run, pipes: Sequence[Pipe], found: Losses, permitted: float) -> Table:
    """One row for each appliance: the whole way to it against the permitted loss in Pa."""
    tree = run.tree
    lengths = tree.along([pipe.length for pipe in pipes])
    frictions, gains = tree.along(found.friction), tree.along(found.gain)
    rows: list[dict[str, Any]] = [
        {
            "section": f"{tree.rows[place]}",
            "flow": run.own_flow(place) * HOUR,
            "length": lengths[place],
            "friction": frictions[place] / PASCALS,
            "gain": gains[place] / PASCALS,
            "loss": found.net[place] / PASCALS,
            "share": 100 * found.net[place] / permitted,
        }
        for place in sorted(tree.ends)
    ]
    return Table(PATHS.name, tuple(rows))
