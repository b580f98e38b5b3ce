"""Tightness test: let-by and test verdict, leak rate, and what temperature alone would do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.domain.pipes.installation import GASES, METERS, USES, pipe_rows, volume_under_test
from calcs.domain.tightness.industrial_test import GAUGES, duration_of
from calcs.domain.tightness.leak import leak_rate_of, period_of
from calcs.domain.tightness.movement import movement_of
from calcs.domain.tightness.permitted_drop import BY_METER, BY_VOLUME
from calcs.domain.tightness.starting_pressure import LOW_SUPPLY_VERDICT, OPERATING_VERDICT
from calcs.domain.tightness.tightness import EDITION_REFUSALS
from calcs.domain.tightness.tightness_verdict import (
    NOTES,
    REFUSALS,
    RULINGS,
    SMELL,
    tightness_findings,
)
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
from calcs.engine.errors import Impossible, Missing
from calcs.engine.traced import si
from calcs.engine.units import Q


def tightness_test(
    *,
    smell_of_gas: str = "no",
    procedure: str,
    gas: str,
    volume_from: str,
    meter: str | None = None,
    sections: Sequence[Mapping[str, Any]] | None = None,
    installation_volume: Q | None = None,
    let_by_start: Q | None = None,
    let_by_end: Q | None = None,
    test_start: Q | None = None,
    test_end: Q | None = None,
    elapsed: Q | None = None,
    gas_temperature: Q,
    atmospheric_pressure: Q,
    gauge_resolution: Q | None = None,
    gauge_accuracy: Q | None = None,
    gauge_movement: Q | None = None,
    test_gauge: str | None = None,
    test_medium: str | None = None,
    ref: Any,
) -> dict[str, Q | None]:
    """Fall of pressure, the leak that it means, and the cooling that alone would cause it.

    Args:
        smell_of_gas: "no", or "yes", which decides before any reading.
        procedure: "small", or "industrial_new" for new industrial pipework.
        gas: "natural_gas", "lpg_air", "propane" or "butane".
        volume_from: "figure" or "pipework".
        meter: Kind of meter.
        sections: Rows: material, size and length of each pipe.
        installation_volume: Volume of meter, pipes and fittings. [m**3]
        let_by_start: Pressure as the let-by test begins. [mbar]
        let_by_end: Pressure as it ends. [mbar]
        test_start: Pressure as the test begins. All pressures are gauge. [mbar]
        test_end: Pressure as it ends. [mbar]
        elapsed: Length of the test. [min]
        gas_temperature: Temperature of the gas in the pipes. [degC]
        atmospheric_pressure: Absolute pressure of the air. [mbar]
        gauge_resolution: Smallest step of the gauge. [mbar]
        gauge_accuracy: Half-width of its error. [mbar] or [percent]
        gauge_movement: Smallest movement seen on it, where data has one. [mbar]
        test_gauge: Kind of gauge in the industrial table.
        test_medium: "fuel_gas" or "air" in the industrial test.
        ref: Uses `tightness.*`, the tables of volumes, `reference_state.*`, `industrial.*`.

    Returns:
        per_metre: Volume of a metre of the pipe of a row. [litre/m]
        meter_volume: Volume of the meter. [m**3]
        pipe_volume: Volume of the pipes. [m**3]
        fittings_volume: What the fittings count as. [m**3]
        tested_volume: Installation volume. [m**3]
        let_by_rise: Pressure at the end of the let-by test less that at its start. [mbar]
        fall: Pressure at the start of the test less that at its end. [mbar]
        leak_rate: Gas lost, at the reference state. [litre/h]
        pressure_per_kelvin: Change of pressure for each kelvin in a closed volume. [mbar/K]
        temperature_change: Cooling that alone gives the same fall. [K]
        readable_movement: Movement that counts on the gauge of the industrial test. [mbar]
        needed_duration: Movement times volume times the factor of the gas. [min]
        test_duration: How long the industrial test must last. [min]
        factor_by_leak: Test time factor that follows from the leak limit. [min/(mbar*m**3)]

    Raises:
        Missing: A reading that the procedure needs was left empty.
        NotInForce: The edition may not be used for a test on that day.
        Impossible: The gas is not in the industrial procedure, or the volume is less than that
            of the meter.

    Not covered: existing industrial pipework, medium-pressure pipework, strength tests, and the
    test of a caravan or a boat.

    >>> from calcs.engine.units import Quantity
    >>> ref = {"reference_state.pressure": Quantity(1000, "mbar")}
    >>> ref["reference_state.temperature"] = Quantity(15, "degC")
    >>> found = tightness_test(
    ...     procedure="small",
    ...     gas="natural_gas",
    ...     volume_from="figure",
    ...     installation_volume=Quantity(0.01, "m**3"),
    ...     test_start=Quantity(20, "mbar"),
    ...     test_end=Quantity(16, "mbar"),
    ...     elapsed=Quantity(2, "min"),
    ...     gas_temperature=Quantity(15, "degC"),
    ...     atmospheric_pressure=Quantity(1000, "mbar"),
    ...     ref=ref,
    ... )
    >>> round(found["leak_rate"].magnitude, 9)  # 10 litre × 4 ÷ 1000 in two minutes
    1.2
    """
    gauge = (gauge_resolution, gauge_accuracy, gauge_movement)
    try:
        found = volume_under_test(volume_from, meter, sections or (), installation_volume, ref)
        volume = found["tested_volume"]
        if procedure == "industrial_new":
            found |= duration_of(volume, gas, test_gauge or "", test_medium or "", ref)
        elif test_start is None or test_end is None:
            _only_let_by(let_by_start, let_by_end, test_start, test_end)
    except (Impossible, Missing):
        if smell_of_gas != "yes":
            raise
        found, volume = {}, None  # who smells gas is asked for no figure
    if let_by_start is not None and let_by_end is not None:
        found["let_by_rise"] = movement_of(let_by_end - let_by_start, gauge)
    if test_start is None or test_end is None:
        return found
    fall = movement_of(test_start - test_end, gauge)
    period = elapsed if elapsed is not None else period_of(procedure, gas, ref)
    temperature = gas_temperature.to("kelvin")
    per_kelvin = ((atmospheric_pressure + test_start) / temperature).to("mbar/kelvin")
    found |= {
        "fall": fall,
        "pressure_per_kelvin": per_kelvin,
        "temperature_change": (fall / per_kelvin).to("kelvin"),
    }
    if volume is not None and period is not None and si(fall) > 0:
        found["leak_rate"] = leak_rate_of(volume, fall, period, temperature, ref)
    return found


def _only_let_by(*readings: Q | None) -> None:
    """The let-by test comes first: its two readings can stand alone."""
    let_by_start, let_by_end, test_start, test_end = readings
    if let_by_start is None or let_by_end is None or test_start is not None or test_end is not None:
        raise Missing("test_start" if test_start is None else "test_end")


SMALL, INDUSTRIAL = When("procedure", ("small",)), When("procedure", ("industrial_new",))
TYPED, LISTED = When("volume_from", ("figure",)), When("volume_from", ("pipework",))
PRESSURES = ("kPa", "inWG")


def _reading(name: str) -> Input:
    return Input(name, "mbar", 0, 200, PRESSURES, optional=True, read_with="gauge")


def _own(name: str, unit: str, low: float, high: float, also: tuple[str, ...]) -> Input:
    """A figure from the reader's own copy of the small procedure."""
    return Input(name, unit, low, high, also, optional=True, when=SMALL, uncertainty=STATED)


CALCULATOR = Calculator(
    formula=tightness_test,
    inputs=(
        Choice("smell_of_gas", ("no", "yes")),
        Choice("procedure", ("small", "industrial_new"), default="small"),
        Choice("gas", GASES, default="natural_gas"),
        Choice("pipework", ("existing", "new"), when=SMALL),
        Choice("appliances", ("connected", "not_connected"), when=SMALL),
        _reading("let_by_start"),
        _reading("let_by_end"),
        _reading("test_start"),
        _reading("test_end"),
        # Held: drops of up to 8 mbar, movements of up to 0.25 mbar, tests of 2 min and longer. The
        # bounds leave room for another edition; `tightness_findings` holds them to the data.
        _own("permitted_drop", "mbar", 0, 10, PRESSURES),
        _own("perceptible_movement", "mbar", 0, 0.5, PRESSURES),
        _own("own_period", "min", 1, 60, ("s", "h")),
        Choice("volume_from", ("figure", "pipework"), default="figure"),
        Choice("meter", METERS, optional=True),
        Input(
            "installation_volume",
            "m**3",
            1e-4,  # less than a metre of 15 mm pipe
            100,
            ("litre",),
            optional=True,
            when=TYPED,
            uncertainty=WRITTEN,
        ),
        pipe_rows(when=LISTED, low=1),
        Input("largest_pipe", "mm", low=4, high=400, optional=True, when=SMALL, uncertainty=STATED),
        Choice("test_gauge", GAUGES, default="water", when=INDUSTRIAL),
        Choice("test_medium", ("fuel_gas", "air"), default="fuel_gas", when=INDUSTRIAL),
        Choice("edition", ("in_force", "edition_3", "edition_4"), default="in_force", when=SMALL),
        Input(
            "elapsed", "min", low=0.1, high=1440, also=("s", "h"), optional=True, uncertainty=STATED
        ),
        Instrument("gauge", "pressure", "mbar", "digital_gauge_1dp", also=("percent",)),
        Input(
            "gas_temperature",
            "degC",
            -30,
            60,
            default="reference_state.temperature",
            uncertainty=WRITTEN,
        ),
        Input(
            "atmospheric_pressure",
            "mbar",
            low=600,
            high=1100,
            also=("kPa",),
            default="reference_state.pressure",
            uncertainty=WRITTEN,
        ),
    ),
    outputs=(
        Output("fall", "mbar", places=2),
        Output("let_by_rise", "mbar", places=2),
        Output("leak_rate", "litre/hour", places=2),
        Output("tested_volume", "m**3", places=5),
        Output("temperature_change", "kelvin", places=2),
        Output("pressure_per_kelvin", "mbar/kelvin", places=2),
        Output("test_duration", "min", places=1),
        Output("factor_by_leak", "min/(mbar*m**3)", places=1),
    ),
    sources=(
        Cite("igem_up_1b_edition_4", "test procedure"),
        Cite("industry_standard_update_133", "which edition from when"),
        Cite("igem_up_1", "test duration of new pipework"),
    ),
    uses=(
        *USES,
        "tightness.*",
        "tightness.test_period.*",
        "tightness.test_pressure.*",
        "tightness.test_pressure_low.*",
        "tightness.test_pressure_high.*",
        "tightness.test_pressure_least.*",
        "tightness.perceptible.*",
        "tightness.scope_pressure.*",
        BY_METER,
        *sorted(set(BY_VOLUME.values())),
        "industrial_gauges",
        "industrial.test_factor.*",
        "industrial.air_test_factor.*",
        "industrial.leak_limit.*",
        "industrial.test_period_least",
        "reference_state.*",
        "working_pressure.supply_nominal.*",
        "working_pressure.supply_tolerance.*",
    ),
    judge=tightness_findings,
    verdicts=(
        SMELL,
        "tightness",
        "let_by",
        "let_by_pressure",
        "test_pressure",
        LOW_SUPPLY_VERDICT,
        OPERATING_VERDICT,
        "scope",
    ),
    notes=NOTES,
    rulings=RULINGS,
    refusals=(
        "no_industrial_figures",
        "meter_needed",
        "length_by_volume",
        *EDITION_REFUSALS,
        "less_than_the_meter",
        "no_such_size",
        "volume_unlike_the_size",
        *REFUSALS,
    ),
    rests_on={
        "tightness": ("let_by", "let_by_pressure", "test_pressure", LOW_SUPPLY_VERDICT, "scope"),
        "let_by": ("let_by_pressure",),
    },
    decides={"smell_of_gas": "yes"},
)
