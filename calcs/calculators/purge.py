"""Purge: how much gas to pass, for how long, and the meter reading to stop at."""

from __future__ import annotations

from typing import Any

from calcs.domain.gas.meter_index import INDEX_FULL, INDEX_REFUSALS, gas_between, reading_after
from calcs.domain.pipes.installation import METERS, check_volume
from calcs.domain.tightness.purge_findings import BORE, FACTOR, FIXED, VOLUME, purge_findings
from calcs.domain.tightness.starting_pressure import ROUNDING_TOLERANCE
from calcs.domain.tightness.tightness import EDITION_REFUSALS, edition_of
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.errors import Impossible, Missing, NotHeld
from calcs.engine.traced import si
from calcs.engine.uncertainty import difference_of_readings
from calcs.engine.units import Q

FIXED_BORE = "purge.fixed_volume_bore"
FIXED_METERS = ("ultrasonic_e6", "diaphragm_u6_g4")
SMALL_METERS = (*FIXED_METERS, "diaphragm_u16_g10")


def purge(
    *,
    procedure: str,
    edition: str | None = None,
    meter: str | None = None,
    largest_pipe: Q | None = None,
    installation_volume: Q | None = None,
    pipe_volume: Q | None = None,
    own_purge_volume: Q | None = None,
    flow: Q | None = None,
    first_reading: Q | None = None,
    second_reading: Q | None = None,
    index_resolution: Q | None = None,
    index_accuracy: Q | None = None,
    ref: Any,
) -> dict[str, Q | None]:
    """Volume to purge, the time that it takes and where the meter then stands.

    Args:
        procedure: "small" or "industrial".
        edition: "in_force", "edition_3" or "edition_4" of the small procedure.
        meter: Kind of meter.
        largest_pipe: Nominal size of the largest pipe. [mm]
        installation_volume: Volume of meter, pipes and fittings. [m**3]
        pipe_volume: Volume of pipes and fittings alone. [m**3]
        own_purge_volume: Purge volume from the reader's own copy. [m**3]
        flow: Gas rate while purging. [m**3/h]
        first_reading: Meter index before the purge. [m**3]
        second_reading: Meter index after it. [m**3]
        index_resolution: Smallest step of the index. [m**3]
        index_accuracy: Half-width of the meter's error. [percent]
        ref: Uses `purge.*`, `meter_cyclic_volumes` and the edition in force.

    Returns:
        purge_volume: Gas to pass through the meter. [m**3]
        purge_time: How long that takes at the flow. [s]
        stop_reading: Meter index to stop at. [m**3]
        gas_passed: Gas that passed. [m**3]

    Raises:
        Missing: A figure that the rule needs was left empty.
        NotHeld: The rule of the edition is not held.
        NotInForce: The edition may not be used on that day.
        Impossible: The meter is not in the procedure or holds more than the installation, or the
            index runs backwards.

    Not covered: purging with an inert gas, purging out of use, and large or medium-pressure
    pipework that needs a written plan.

    >>> from calcs.engine.units import Quantity, parse_quantity
    >>> class Ref(dict):
    ...     def rows(self, table):
    ...         return [{"meter": "diaphragm_u16_g10", "volume": "0.01 m³"}]
    ...
    ...     def cell(self, table, text, label):
    ...         return parse_quantity(text)
    >>> found = purge(
    ...     procedure="industrial",
    ...     meter="diaphragm_u16_g10",
    ...     pipe_volume=Quantity(0.1, "m**3"),
    ...     flow=Quantity(3.6, "m**3/h"),
    ...     ref=Ref(
    ...         {
    ...             "purge.industrial_pipe_factor": Quantity(1.5, ""),
    ...             "purge.industrial_meter_factor": Quantity(5, ""),
    ...         }
    ...     ),
    ... )
    >>> found["purge_time"].to("s").magnitude
    200.0
    """
    check_volume(installation_volume, meter, ref)
    if own_purge_volume is not None:
        volume = own_purge_volume
    elif procedure == "industrial":
        volume = _industrial(meter, pipe_volume, ref)
    else:
        volume = _small(edition or "", meter, largest_pipe, installation_volume, ref)
    volume = volume.to("m**3")
    found: dict[str, Q | None] = {"purge_volume": volume}
    if flow is not None:
        found["purge_time"] = (volume / flow).to("s")
    if first_reading is not None:
        found["stop_reading"] = reading_after(first_reading, volume, ref)
    if first_reading is not None and second_reading is not None:
        passed = gas_between(first_reading, second_reading)
        found["gas_passed"] = difference_of_readings(
            passed, index_resolution, index_accuracy, "index"
        )
    return found


def _industrial(meter: str | None, pipe_volume: Q | None, ref: Any) -> Q:
    if pipe_volume is None:
        raise Missing("pipe_volume", "pipe_volume_needed")
    if meter is None:
        raise Missing("meter", "meter_needed")
    pipes = ref["purge.industrial_pipe_factor"] * pipe_volume
    if meter == "none":
        return pipes
    cycles = {row["meter"]: row["volume"] for row in ref.rows("meter_cyclic_volumes")}
    if meter not in cycles:
        raise Impossible("meter", "no_cycle")
    cycle = ref.cell("meter_cyclic_volumes", cycles[meter], "Cyclic volume of the meter")
    return pipes + ref["purge.industrial_meter_factor"] * cycle


def _small(
    edition: str, meter: str | None, largest_pipe: Q | None, volume: Q | None, ref: Any
) -> Q:
    current = edition_of(edition, ref)
    if current != "3" or not ref.held(FIXED):
        raise NotHeld("own_purge_volume", "rule_not_held")
    if meter is None:
        raise Missing("meter", "by_meter_and_size")
    if largest_pipe is None:
        raise Missing("largest_pipe", "by_meter_and_size")
    if meter not in SMALL_METERS:
        raise Impossible("meter", "no_purge_volume")
    if meter in FIXED_METERS and si(largest_pipe) <= si(ref[FIXED_BORE]) + ROUNDING_TOLERANCE:
        return ref[FIXED]
    if volume is None:
        raise Missing("installation_volume", "by_volume")
    return ref[FACTOR] * volume


SMALL, INDUSTRIAL = When("procedure", ("small",)), When("procedure", ("industrial",))

CALCULATOR = Calculator(
    formula=purge,
    inputs=(
        Choice("procedure", ("small", "industrial"), default="small"),
        Choice("edition", ("in_force", "edition_3", "edition_4"), default="in_force", when=SMALL),
        Choice("meter", METERS, optional=True),
        Input("largest_pipe", "mm", low=4, high=400, optional=True, when=SMALL, uncertainty=STATED),
        Input(
            "installation_volume",
            "m**3",
            1e-4,  # less than a metre of 15 mm pipe
            100,
            ("litre",),
            optional=True,
            when=SMALL,
            uncertainty=WRITTEN,
        ),
        Input(
            "pipe_volume",
            "m**3",
            1e-5,
            1000,
            ("litre",),
            optional=True,
            when=INDUSTRIAL,
            uncertainty=WRITTEN,
        ),
        Input(
            "own_purge_volume",
            "m**3",
            1e-5,
            1000,
            ("litre", "ft**3"),
            optional=True,
            uncertainty=STATED,
        ),
        Input(
            "flow",
            "m**3/h",
            low=0.01,
            high=1000,
            also=("litre/min", "ft**3/h"),
            optional=True,
            uncertainty=WRITTEN,
        ),
        Input(
            "first_reading",
            "m**3",
            low=0,
            high=1e8,
            also=("ft**3",),
            optional=True,
            uncertainty=WRITTEN,
        ),
        Input(
            "second_reading",
            "m**3",
            low=0,
            high=1e8,
            also=("ft**3",),
            optional=True,
            uncertainty=WRITTEN,
        ),
        Instrument("index", "volume", "m**3", "meter_index_metric", also=("ft**3", "percent")),
    ),
    outputs=(
        Output("purge_volume", "m**3", places=4),
        Output("purge_time", "s", places=0),
        Output("stop_reading", "m**3", places=3),
        Output("gas_passed", "m**3", places=3),
    ),
    sources=(
        Cite("igem_up_1b_edition_3", "purge volume table"),
        Cite("igem_up_1b_edition_4", "purge volume"),
        Cite("igem_up_1", "purge volume"),
    ),
    uses=(
        "purge.*",
        "meter_cyclic_volumes",
        "meter_volumes",
        "tightness.edition",
        "tightness.edition_early",
        VOLUME,
        BORE,
        INDEX_FULL,
    ),
    judge=purge_findings,
    verdicts=("purged", "scope", "bore"),
    notes=("ignite", "ignite_not_held", "less_than_volume", "stop_later"),
    rulings=("beyond_small", "too_much", "volume_not_typed", "meter_not_chosen"),
    refusals=(
        "pipe_volume_needed",
        "meter_needed",
        "no_cycle",
        "rule_not_held",
        "by_meter_and_size",
        "no_purge_volume",
        "by_volume",
        *INDEX_REFUSALS,
        *EDITION_REFUSALS,
        "less_than_the_meter",
    ),
    rests_on={"purged": ("scope", "bore")},
)
