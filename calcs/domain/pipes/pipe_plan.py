"""What the sections of a run may be made of, and what each would do one size smaller."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calcs.domain.pipes.pipe_catalogue import AddedLengths, Tube, tubes
from calcs.domain.pipes.pipe_flow import Pipe, friction_loss
from calcs.domain.pipes.pipe_run import Run, added_lengths, length_of
from calcs.domain.pipes.pipe_sizing import Offer, narrower_than_behind, worst_of
from calcs.domain.pipes.pipe_tables import PASCALS
from calcs.engine.declarations import Output, TableShape
from calcs.engine.errors import Impossible, Refusal
from calcs.engine.findings import Table
from calcs.engine.traced import si
from calcs.engine.units import Q

SMALLER = TableShape(
    "one_size_smaller",
    (
        Output("section", "", places=0),
        Output("tube", "", places=0),
        Output("smaller", "", places=0),
        Output("loss", "mbar", places=3),
        Output("share", "percent", places=0),
    ),
)

KEPT_WIDE = "kept_wide"


@dataclass(frozen=True)
class Plan:
    """What each section may be made of.

    Args:
        sections: Rows as the reader filled them.
        tubes: Those offered, smallest first.
        pipes: Pipe of each section in each of them; None where its fittings are not held.
        offer: Their losses.
        added: Added lengths, if any row counts a fitting.
    """

    sections: Sequence[Mapping[str, Any]]
    tubes: list[Tube]
    pipes: list[list[Pipe | None]]
    offer: Offer
    added: AddedLengths | None

    def able(self, sizes: Sequence[int]) -> bool:
        """Whether every section can be worked out in these sizes."""
        return all(self.pipes[place][size] is not None for place, size in enumerate(sizes))

    def laid(self, sizes: Sequence[int]) -> list[tuple[Pipe, Tube]]:
        """Pipe and tube of each section in these sizes."""
        return [
            (pipe, self.tubes[size])
            for place, size in enumerate(sizes)
            if (pipe := self.pipes[place][size]) is not None
        ]

    def refusal(self) -> Refusal:
        """Why no set of tubes does."""
        for section, pipes in zip(self.sections, self.pipes, strict=True):
            for tube, pipe in zip(self.tubes, pipes, strict=True):
                if self.added and pipe is None and tube.size > self.least_held:
                    return self.added.refusal(section, tube)
        return Impossible("permitted_loss", "largest_loses_more")

    @property
    def least_held(self) -> float:
        """Smallest size whose fittings are held in every section that counts them."""
        held = [
            tube.size
            for place, tube in enumerate(self.tubes)
            if all(pipes[place] is not None for pipes in self.pipes)
        ]
        return min(held, default=0.0)


def offered_tubes(material: str, least: Q | None, ref: Any) -> list[Tube]:
    """Tubes of a material, smallest first, from the least size that the reader keeps.

    Raises:
        Impossible: There is none so large.
    """
    smallest = 0.0 if least is None else round(si(least) * 1000, 6)
    offered = [tube for size, tube in tubes(material, ref).items() if size >= smallest]
    if not offered:
        raise Impossible("least_size", "none_as_large")
    return offered


def plan_of(
    run: Run,
    sections: Sequence[Mapping[str, Any]],
    *,
    offered: list[Tube],
    by: str,
    permitted: Q,
    ref: Any,
    around: Sequence[int] | None = None,
) -> Plan:
    """The plan of a run; with `around`, losses only for those sizes and one size below."""
    added = added_lengths(sections, by, ref)
    pipes = [_in_each(section, offered, added) for section in sections]
    wanted = {(place, size) for place, size in enumerate(around or ())}
    wanted |= {(place, size - 1) for place, size in wanted}
    offer = Offer(
        friction=[
            [
                friction_loss(run.flows[place], pipe, run.gas)
                if pipe is not None and (around is None or (place, size) in wanted)
                else None
                for size, pipe in enumerate(row)
            ]
            for place, row in enumerate(pipes)
        ],
        tube=[
            [length * tube.size for tube in offered]
            for length in (si(section["length"]) for section in sections)
        ],
        gain=[run.lift * rise for rise in run.tree.rises],
        limit=si(permitted),
    )
    return Plan(sections, offered, pipes, offer, added)


def _in_each(
    section: Mapping[str, Any], offered: Sequence[Tube], added: AddedLengths | None
) -> list[Pipe | None]:
    """A section in each tube; None where its fittings are not held."""
    length = length_of(section)
    fittings = [added.of(section, tube) if added else 0.0 for tube in offered]
    return [
        None if more is None else Pipe(length + more, tube.bore, tube.roughness)
        for tube, more in zip(offered, fittings, strict=True)
    ]


def smaller_table(run: Run, plan: Plan, chosen: list[int]) -> Table:
    """Each section one size smaller, the others left as they are."""
    rows: list[dict[str, Any]] = []
    for place, size in enumerate(chosen):
        row: dict[str, Any] = {
            "section": f"{run.tree.rows[place]}",
            "tube": plan.tubes[size].text,
        }
        tried = [*chosen[:place], size - 1, *chosen[place + 1 :]]
        if size and plan.able(tried):
            lost = worst_of(run.tree, plan.offer, tried)
            row |= {
                "smaller": plan.tubes[size - 1].text,
                "loss": lost / PASCALS,
                "share": 100 * lost / plan.offer.limit,
            }
        rows.append(row)
    return Table(SMALLER.name, tuple(rows))


def rows_kept_wide(run: Run, plan: Plan, chosen: list[int]) -> list[int]:
    """Rows that would keep the loss one size smaller, but be narrower than what follows them."""
    rows = []
    for place, size in enumerate(chosen):
        tried = [*chosen[:place], size - 1, *chosen[place + 1 :]]
        if not size or not plan.able(tried) or place not in narrower_than_behind(run.tree, tried):
            continue
        if worst_of(run.tree, plan.offer, tried) <= plan.offer.limit:
            rows.append(run.tree.rows[place])
    return rows
