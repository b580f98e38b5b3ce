"""Gas rate: heat input from a timed meter reading, and the time to expect."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.domain.gas.calorific_value import heat_in_volume
from calcs.domain.gas.data_plate import PLATE_INPUT
from calcs.domain.gas.gas_rate_findings import (
    ABOVE,
    BELOW,
    BILLING,
    NOTES,
    REFUSALS,
    RULINGS,
    VERDICTS,
    judge,
)
from calcs.domain.gas.meter_index import gas_passed, gas_read
from calcs.domain.gas.run_ahead import run_ahead
from calcs.domain.gas.volume_correction import volume_correction
from calcs.domain.plausibility.gas_rate import SLIP_USES
from calcs.engine.declarations import (
    COUNTED,
    IN_FORMULA,
    STATED,
    WRITTEN,
    Ahead,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.errors import Missing
from calcs.engine.units import Q


def gas_rate(
    *,
    method: str,
    volume: Q | None = None,
    first_reading: Q | None = None,
    second_reading: Q | None = None,
    dial_volume: Q | None = None,
    revolutions: Q | None = None,
    elapsed: Q | None = None,
    calorific_value_gross: Q,
    calorific_value_good_to: Q | None = None,
    gas: str,
    plate_input: Q | None = None,
    plate_basis: str,
    tolerance_above: Q,
    tolerance_below: Q,
    meter_resolution: Q | None = None,
    meter_accuracy: Q | None = None,
    gas_temperature: Q | None = None,
    meter_height: Q | None = None,
    meter_pressure_gauge: Q | None = None,
    ref: Mapping[str, Q],
) -> dict[str, Q | None]:
    """Heat input of an appliance from the gas that it burns in a timed run.

    Args:
        method: How the gas was measured: "volume", "index" or "dial".
        volume: Gas passed during the run, as metered. [m**3]
        first_reading: Meter index at the start. [m**3]
        second_reading: Meter index at the end. [m**3]
        dial_volume: Gas passed in one turn of the test dial. [ft**3]
        revolutions: Whole turns timed.
        elapsed: Length of the run; None asks only for the time to expect. [s]
        calorific_value_gross: Heat in the gas, gross. [MJ/m**3]
        calorific_value_good_to: How good that figure is, where it was typed. [percent]
        gas: "natural_gas", "propane" or "butane".
        plate_input: Heat input on the data plate. [kW]
        plate_basis: "net" or "gross", as the data plate says.
        tolerance_above: How far above the plate the input may be. [percent]
        tolerance_below: How far below. [percent]
        meter_resolution: Smallest step of the meter's index. [m**3]
        meter_accuracy: Half-width of the meter's error. [percent]
        gas_temperature: Of the gas in the meter. With it the heat input is worked from the
            corrected volume, without it from the metered one. [degC]
        meter_height: Of the meter above the sea. [m]
        meter_pressure_gauge: Of the gas in the meter. [mbar]
        ref: Uses `gas.<gas>.gross_to_net`, `reference_state.*`, `billing.height_*` and
            `lpg.vapour_to_liquid`.

    Returns:
        gas_used: Gas passed, as metered. [m**3]
        flow_rate: Metered flow. [m**3/h]
        volume_correction: What the metered volume is multiplied by for the reference state.
        gas_used_corrected: Gas passed, at the reference state. [m**3]
        flow_rate_corrected: Flow at the reference state. [m**3/h]
        heat_input_gross: Heat input on the gross calorific value. [kW]
        heat_input_net: Heat input on the net calorific value. [kW]
        share_of_plate: Heat input as a share of the data plate's. [percent]
        lowest_input: Least heat input that the tolerance permits. [kW]
        highest_input: Greatest heat input that it permits. [kW]
        expected_elapsed: Time in which that gas passes at the data plate's input. [s]
        liquid_rate: Liquid that the metered flow of propane comes from. [litre/h]

    Raises:
        Impossible: The second index reading is not above the first, or is too far above it.
        Missing: Neither a time nor a data plate input was given.

    Not covered: meters that feed other appliances at the same time.

    >>> from calcs.engine.units import Quantity
    >>> ref = {"gas.natural_gas.gross_to_net": Quantity(1.1, "")}
    >>> run = gas_rate(
    ...     method="volume",
    ...     volume=Quantity(0.1, "m**3"),
    ...     elapsed=Quantity(120, "s"),
    ...     calorific_value_gross=Quantity(36, "MJ/m**3"),
    ...     gas="natural_gas",
    ...     plate_basis="net",
    ...     tolerance_above=Quantity(5, "percent"),
    ...     tolerance_below=Quantity(10, "percent"),
    ...     ref=ref,
    ... )
    >>> run["heat_input_gross"].to("kW").magnitude
    30.0
    """
    passed = gas_passed(method, volume, (first_reading, second_reading), (dial_volume, revolutions))
    gas_used = gas_read(passed, meter_resolution, meter_accuracy)
    gross_to_net = ref[f"gas.{gas}.gross_to_net"]
    if elapsed is None and plate_input is None:
        raise Missing("plate_input", "plate_needed")
    if (
        calorific_value_good_to is not None
        and getattr(calorific_value_gross, "role", "") == "figure"
    ):
        raise Missing("calorific_value_gross", "value_needed")
    results: dict[str, Q | None] = {"gas_used": gas_used}
    burnt_volume = gas_used
    if gas_temperature is not None and meter_height is not None:
        factor = volume_correction(gas_temperature, meter_height, meter_pressure_gauge, ref)
        burnt_volume = gas_used * factor
        results |= {"volume_correction": factor, "gas_used_corrected": burnt_volume}
    if elapsed is not None:
        flow_rate = (gas_used / elapsed).to("m**3/h")
        results["flow_rate"] = burnt_flow = flow_rate
        if burnt_volume is not gas_used:
            results["flow_rate_corrected"] = burnt_flow = (burnt_volume / elapsed).to("m**3/h")
        heat_input_gross = (burnt_flow * calorific_value_gross).to("kW")
        heat_input_net = heat_input_gross / gross_to_net
        results |= {"heat_input_gross": heat_input_gross, "heat_input_net": heat_input_net}
        if gas == "propane":  # the figure is propane's; butane gives less vapour
            results["liquid_rate"] = (flow_rate * ref["lpg.vapour_to_liquid"]).to("litre/h")
    if plate_input is not None:
        results |= {
            "lowest_input": plate_input * (1 - tolerance_below),
            "highest_input": plate_input * (1 + tolerance_above),
        }
        plate_gross = plate_input if plate_basis == "gross" else plate_input * gross_to_net
        results["expected_elapsed"] = (burnt_volume * calorific_value_gross / plate_gross).to("s")
        if elapsed is not None:
            burnt = heat_input_gross if plate_basis == "gross" else heat_input_net
            results["share_of_plate"] = (burnt / plate_input).to("percent")
    return results


BY_VOLUME, BY_INDEX, BY_DIAL = (When("method", (way,)) for way in ("volume", "index", "dial"))
TIMED = When("question", ("heat_input",))
CORRECTED = When("correction", ("by_conditions",))
GASES = ("natural_gas", "propane", "butane")
GOOD_TO = "calorific_value_good_to"
ONE_CUBIC_METRE = {
    "question": {"value": "time_to_expect"},
    "method": {"value": "volume"},
    "volume": {"value": "1", "unit": "m**3"},
}

CALCULATOR = Calculator(
    formula=gas_rate,
    inputs=(
        Choice("question", ("heat_input", "time_to_expect"), default="heat_input"),
        Choice("method", ("volume", "index", "dial"), default="volume"),
        Input(
            "volume",
            "m**3",
            low=0.0001,
            high=100,
            also=("ft**3", "litre"),
            when=BY_VOLUME,
            uncertainty=IN_FORMULA,
        ),
        Input(
            "first_reading",
            "m**3",
            low=0,
            high=1e8,
            also=("ft**3",),
            when=BY_INDEX,
            uncertainty=IN_FORMULA,
        ),
        Input(
            "second_reading",
            "m**3",
            low=0,
            high=1e8,
            also=("ft**3",),
            when=BY_INDEX,
            uncertainty=IN_FORMULA,
        ),
        Input(
            "dial_volume",
            "ft**3",
            low=0.01,
            high=40,
            also=("m**3", "litre"),
            when=BY_DIAL,
            uncertainty=STATED,
        ),
        Input("revolutions", "", low=1, high=1000, when=BY_DIAL, uncertainty=COUNTED),
        Input("elapsed", "s", low=10, high=7200, also=("min",), when=TIMED, read_with="stopwatch"),
        Choice("gas", GASES, default="natural_gas"),
        heat_in_volume(
            "calorific_value_gross",
            "gas.{gas}.calorific_value_gross",
            uncertainty=WRITTEN,
            good_to=GOOD_TO,
        ),
        Input(GOOD_TO, "percent", low=0, high=20, optional=True, uncertainty=STATED),
        PLATE_INPUT,
        Choice("plate_basis", ("net", "gross"), default="net"),
        Input("tolerance_above", "percent", low=0, high=20, default=ABOVE, uncertainty=STATED),
        Input("tolerance_below", "percent", low=0, high=20, default=BELOW, uncertainty=STATED),
        Choice("correction", ("none", "by_conditions"), default="none"),
        Input(
            "gas_temperature",
            "degC",
            low=-20,
            high=50,
            also=("degF",),
            when=CORRECTED,
            uncertainty=WRITTEN,
        ),
        Input(
            "meter_height", "m", low=0, high=2000, also=("ft",), when=CORRECTED, uncertainty=STATED
        ),
        Input(
            "meter_pressure_gauge",
            "mbar",
            low=0,
            high=200,
            also=("kPa", "inWG"),
            when=CORRECTED,
            default="working_pressure.supply_nominal.{gas}",
            uncertainty=WRITTEN,
        ),
        Instrument("meter", "volume", "m**3", "meter_index_metric", also=("ft**3", "percent")),
        Instrument("stopwatch", "time", "s", default="hand_stopwatch"),
    ),
    outputs=(
        Output("flow_rate", "m**3/h", places=3),
        Output("heat_input_gross", "kW", places=2),
        Output("heat_input_net", "kW", places=2),
        Output("share_of_plate", "percent", places=1),
        Output("expected_elapsed", "s", places=0),
        Output("liquid_rate", "litre/h", places=2),
        Output("volume_correction", "", places=4),
        Output("flow_rate_corrected", "m**3/h", places=3),
    ),
    sources=(Cite("si_brochure_9", "Table 8: an hour is 3600 s"),),
    uses=(
        "gas.*.gross_to_net",
        "gas.*.calorific_value_gross",
        BILLING,
        "billing.height_*",
        "working_pressure.supply_nominal.*",
        "reference_state.*",
        "lpg.vapour_to_liquid",
        ABOVE,
        BELOW,
        *SLIP_USES,
    ),
    judge=judge,
    verdicts=VERDICTS,
    notes=NOTES,
    rulings=RULINGS,
    refusals=("plate_needed", "value_needed", *REFUSALS),
    ahead=Ahead(ONE_CUBIC_METRE, "expected_elapsed", run_ahead),
)
