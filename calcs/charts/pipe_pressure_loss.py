"""Loss along a pipe run: the way to the worst-off appliance, the branches, the permitted loss."""

from __future__ import annotations

from collections.abc import Sequence

from calcs.domain.pipes.pipe_flow import Pipe
from calcs.domain.pipes.pipe_network import METER, Losses
from calcs.domain.pipes.pipe_run import Run
from calcs.engine.chart import LIMIT, LINE, POINTS, Axis, Chart, ChartShape, Point, Series

ALONG = ChartShape(
    "along",
    Axis("m", 1),
    Axis("mbar", 2),
    ("worst", "branches", "permitted", "appliances", "worst_appliance"),
)


def loss_chart(
    run: Run, pipes: Sequence[Pipe], found: Losses, permitted: float, expanded_uncertainty: float
) -> Chart:
    """Loss since the meter over the length from it, fittings counted in.

    Args:
        run: Who feeds whom.
        pipes: Length of each section.
        found: Loss of each.
        permitted: Permitted loss, in Pa.
        expanded_uncertainty: Expanded uncertainty of the greatest loss, in Pa.
    """
    tree = run.tree
    lengths = tree.along([pipe.length for pipe in pipes])
    worst = tree.path(found.worst)

    def end(place: int) -> Point:
        return (0.0, 0.0) if place == METER else (lengths[place], found.net[place])

    branches: list[Point | None] = []
    for place in tree.order:
        if place not in worst:
            branches += [end(tree.feeders[place]), end(place), None]
    return Chart(
        ALONG.name,
        (
            Series("worst", LINE, [end(METER), *(end(place) for place in worst)]),
            Series("branches", LINE, branches[:-1]),
            Series("permitted", LIMIT, [(0.0, permitted), (max(lengths), permitted)]),
            Series("appliances", POINTS, [end(one) for one in tree.ends if one != found.worst]),
            Series("worst_appliance", POINTS, [(*end(found.worst)[:2], 0.0, expanded_uncertainty)]),
        ),
    )
