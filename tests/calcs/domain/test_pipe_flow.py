"""What holds of the loss in pipes whatever the numbers, and that loss and size fit each other."""

from __future__ import annotations

import itertools
import json
import math
from decimal import Decimal, localcontext
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from calcs.domain.pipes.pipe_flow import (
    Gas,
    Pipe,
    friction_loss,
    natural_log,
    reynolds_number,
    turbulent_friction,
)
from calcs.domain.pipes.pipe_network import METER, Branches, share_at_limit
from calcs.domain.pipes.pipe_sizing import Offer, narrower_than_behind, smallest_set, worst_of
from tests.tables.rows import TODAY

SETTINGS = settings(max_examples=60, deadline=None, derandomize=True)
NATURAL_GAS = Gas(density=0.735, viscosity=1.088e-5, transition=1600)
BORES = [0.0088, 0.0108, 0.0136, 0.0202, 0.0262, 0.0326]
SIZES = [10, 12, 15, 22, 28, 35]
flows = st.floats(1e-6, 0.02)
pipes = st.builds(
    Pipe,
    length=st.floats(0.1, 200),
    bore=st.floats(0.006, 0.15),
    roughness=st.floats(0, 1e-4),
)


@SETTINGS
@given(flow=flows, more=st.floats(1.0001, 3), pipe=pipes)
def test_more_flow_loses_more(flow, more, pipe):
    assert friction_loss(flow * more, pipe, NATURAL_GAS) > friction_loss(flow, pipe, NATURAL_GAS)


@SETTINGS
@given(flow=flows, more=st.floats(1.0001, 3), pipe=pipes)
def test_more_length_loses_more_in_proportion(flow, more, pipe):
    longer = Pipe(pipe.length * more, pipe.bore, pipe.roughness)
    ratio = friction_loss(flow, longer, NATURAL_GAS) / friction_loss(flow, pipe, NATURAL_GAS)
    assert math.isclose(ratio, more, rel_tol=1e-12)


@SETTINGS
@given(value=st.floats(1e-12, 1e12))
def test_the_logarithm_is_that_of_the_library(value):
    assert math.isclose(natural_log(value), math.log(value), rel_tol=1e-15, abs_tol=1e-16)


@SETTINGS
@given(reynolds=st.floats(500, 1e8), roughness=st.floats(0, 0.05))
def test_the_friction_factor_solves_its_equation_to_the_last_digits(reynolds, roughness):
    found = turbulent_friction(reynolds, roughness)
    with localcontext() as context:
        context.prec = 40
        x, rough = Decimal(7), Decimal(roughness) / Decimal("3.7")
        smooth, slope = Decimal("2.51") / Decimal(reynolds), 2 / Decimal(10).ln()
        for _ in range(60):
            inside = rough + smooth * x
            x -= (x + slope * inside.ln()) / (1 + slope * smooth / inside)
        error = abs(float(Decimal(found) * x * x) - 1)
    assert error < 1e-14


@SETTINGS
@given(flow=st.floats(1e-5, 0.005), pipe=pipes, allowed=st.floats(1, 1000))
def test_the_flow_at_the_limit_loses_what_is_allowed(flow, pipe, allowed):
    most = flow * share_at_limit([flow], [pipe], NATURAL_GAS, allowed)
    assert friction_loss(most, pipe, NATURAL_GAS) <= allowed * (1 + 1e-12)
    assert friction_loss(most * (1 + 1e-9), pipe, NATURAL_GAS) >= allowed * (1 - 1e-12)


def test_every_cell_of_the_published_copper_table(bundle_text):
    """BS 6891, older editions: copper, 1 mbar, relative density 0.6.

    Turbulent flow within 8.5 %, and within 7 % from 15 mm up. Where either law may hold, the print
    is up to 14 % more generous: we take the greater loss. In smooth flow ours is 4 to 18 % higher,
    as the print rests on a greater viscosity.
    """
    table = json.loads(bundle_text)["tables"]["copper_pipe_flow"]["values"][0]["rows"]
    assert len(table) == 40
    for size, length, flow in table:
        number, metres, printed = (float(cell.split()[0]) for cell in (size, length, flow))
        tube = Pipe(metres, BORES[SIZES.index(int(number))], 1.5e-6)
        ours = share_at_limit([1 / 3600], [tube], NATURAL_GAS, 100.0)  # of 1 m³/h
        reynolds = reynolds_number(ours / 3600, tube, NATURAL_GAS)
        off = ours / printed - 1
        if reynolds >= 2040:
            assert -0.03 < off < (0.07 if number >= 15 else 0.085), (size, length, off)
        elif reynolds >= 1599:
            assert -0.14 < off < 0.09, (size, length, off)
        else:
            assert 0.04 < off < 0.18, (size, length, off)


def trees(most: int) -> st.SearchStrategy[tuple[Branches, Offer]]:
    return st.composite(_tree)(most)


def _tree(draw: Any, most: int) -> tuple[Branches, Offer]:
    count = draw(st.integers(1, most))
    feeders = [draw(st.integers(METER, place - 1)) for place in range(count)]
    loads = [draw(st.floats(0.5, 4)) / 3600 for _ in range(count)]
    loads = [
        load if place not in feeders or draw(st.booleans()) else 0.0
        for place, load in enumerate(loads)
    ]
    lengths = [draw(st.floats(0.5, 12)) for _ in range(count)]
    nothing = (0.0,) * count
    order = tuple(range(count))
    tree = Branches(order, tuple(feeders), nothing, tuple(loads), nothing, order)
    friction = [
        [friction_loss(flow, Pipe(length, bore, 1.5e-6), NATURAL_GAS) for bore in BORES]
        for flow, length in zip(tree.carried(loads), lengths, strict=True)
    ]
    gain = [draw(st.sampled_from([0.0, 5.0, -8.0])) for _ in range(count)]
    tube = [[length * size for size in SIZES] for length in lengths]
    return tree, Offer(friction, tube, gain, 100.0)


@SETTINGS
@given(case=trees(4), tapers=st.booleans())
def test_no_other_set_of_tubes_keeps_the_limit_with_less_tube(case, tapers):
    tree, offer = case
    found = smallest_set(tree, offer, tapers=tapers)
    every = itertools.product(range(len(SIZES)), repeat=len(tree.rows))
    able = [
        chosen
        for chosen in every
        if worst_of(tree, offer, chosen) <= offer.limit and not (tapers and _grows(tree, chosen))
    ]
    if found is None:
        assert not able
        return
    least = min(_tube(offer, chosen) for chosen in able)
    assert worst_of(tree, offer, found) <= offer.limit
    assert math.isclose(_tube(offer, found), least, rel_tol=1e-12)


@SETTINGS
@given(case=trees(25))
def test_towards_the_meter_no_tube_is_narrower_than_one_behind_it(case):
    tree, offer = case
    found = smallest_set(tree, offer)
    if found is None:
        # The widest everywhere keeps that too, so there is a set whenever there is one at all.
        assert smallest_set(tree, offer, tapers=False) is None
        return
    for end in range(len(tree.rows)):
        bores = [BORES[found[place]] for place in tree.path(end)]
        assert bores == sorted(bores, reverse=True)


@SETTINGS
@given(case=trees(25), tapers=st.booleans())
def test_no_tube_of_the_set_can_be_one_size_smaller(case, tapers):
    tree, offer = case
    found = smallest_set(tree, offer, tapers=tapers)
    if found is None:
        assert worst_of(tree, offer, [len(SIZES) - 1] * len(tree.rows)) > offer.limit
        return
    assert worst_of(tree, offer, found) <= offer.limit
    for place, size in enumerate(found):
        if size:
            smaller = [*found[:place], size - 1, *found[place + 1 :]]
            over = worst_of(tree, offer, smaller) > offer.limit
            assert over or (tapers and narrower_than_behind(tree, smaller) == [place])


def _grows(tree: Branches, chosen: Any) -> bool:
    return any(
        feeder != METER and chosen[feeder] < chosen[place]
        for place, feeder in enumerate(tree.feeders)
    )


def _tube(offer: Offer, chosen: Any) -> float:
    return sum(offer.tube[place][size] for place, size in enumerate(chosen))


def ask(bridge: Bridge, calculator: str, sections: list[dict[str, str]]) -> dict[str, Any]:
    rows = [{name: {"value": value} for name, value in row.items()} for row in sections]
    request = {
        "action": "run",
        "calculator": calculator,
        "today": TODAY,
        "inputs": {"sections": {"rows": rows}},
    }
    reply: dict[str, Any] = json.loads(bridge.answer(json.dumps(request)))["answer"]
    return reply


@settings(max_examples=15, deadline=None, derandomize=True)
@given(loads=st.lists(st.floats(1, 20), min_size=1, max_size=6), data=st.data())
def test_the_loss_of_the_proposed_tubes_is_the_loss_that_was_proposed(bridge, loads, data):
    lengths = [data.draw(st.floats(0.5, 6)) for _ in loads]
    rises = [[rise for rise in (0, 1, -2) if abs(rise) <= length] for length in lengths]
    sections = [
        {
            "joins": str(data.draw(st.integers(0, place))),
            "length": f"{length!r} m",
            "rise": f"{data.draw(st.sampled_from(within))} m",
            "load": f"{load!r} kW",
        }
        for place, (load, length, within) in enumerate(zip(loads, lengths, rises, strict=True))
    ]
    sized = ask(bridge, "pipe_size", sections)
    tubes = {table["name"]: table for table in sized["tables"]}["sections"]
    place = [column["name"] for column in tubes["columns"]].index("tube")
    laid = [
        {**section, "size": cells[place]["text"].removesuffix(" copper")}
        for section, cells in zip(sections, tubes["rows"], strict=True)
    ]
    lost = ask(bridge, "pipe_pressure_loss", laid)
    before = {one["name"]: one["value"] for one in sized["answers"]}
    after = {one["name"]: one["value"] for one in lost["answers"]}
    for name in ("worst_loss", "total_flow", "flow_at_limit"):
        assert after[name] == before[name]


@settings(max_examples=25, deadline=None, derandomize=True)
@given(load=st.floats(1, 30), more=st.floats(1.01, 2), metres=st.floats(1, 30))
def test_a_greater_load_never_takes_a_smaller_tube(bridge, load, more, metres):
    sizes = [
        ask(bridge, "pipe_size", [{"length": f"{metres!r} m", "load": f"{kilowatts!r} kW"}])
        for kilowatts in (load, load * more)
    ]
    least, most = (
        next(one["value"] for one in answer["answers"] if one["name"] == "largest_size")
        for answer in sizes
    )
    assert least <= most
