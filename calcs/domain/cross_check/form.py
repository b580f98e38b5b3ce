"""What the form of `cross_check` asks, and all that it may say."""

from __future__ import annotations

from calcs.domain.cross_check.physics import USES as FLUE_USES
from calcs.domain.flue.flue_sample import SAMPLE, SAMPLE_CELLS
from calcs.domain.gas.calorific_value import FLOW_USES, HIGHEST, LOWEST, heat_in_volume
from calcs.domain.gas.data_plate import PLATE_INPUT
from calcs.domain.gas.stoichiometry import FUEL_USES
from calcs.engine.declarations import (
    COUNTED,
    IN_FORMULA,
    STATED,
    AnyInput,
    Choice,
    Input,
    Instrument,
)

PRESSURE_UNITS = ("kPa", "inWG")


def _plate(name: str, unit: str, high: float, *also: str) -> Input:
    return Input(name, unit, 0.05, high, also, optional=True, uncertainty=STATED)


def _pressure(name: str, low: float = 0.05) -> Input:
    return Input(name, "mbar", low, 200, PRESSURE_UNITS, optional=True, read_with="gauge")


def _run(name: str) -> tuple[Input, Input]:
    volume, elapsed = (f"{name}_{part}".lstrip("_") for part in ("volume", "elapsed"))
    units = ("ft**3", "litre")
    return (
        Input(volume, "m**3", 0.0001, 100, units, optional=True, uncertainty=IN_FORMULA),
        Input(elapsed, "s", 10, 7200, ("min",), optional=True, read_with="stopwatch"),
    )


INPUTS: tuple[AnyInput, ...] = (
    Choice("burner", ("injectors", "premix"), default="injectors"),
    Choice("gas", ("natural_gas", "propane"), default="natural_gas"),
    PLATE_INPUT,
    _plate("plate_input_gross", "kW", 5000, "Btu/h"),
    _plate("plate_input_min", "kW", 5000, "Btu/h"),
    _plate("plate_max", "mbar", 200, *PRESSURE_UNITS),
    _plate("plate_min", "mbar", 200, *PRESSURE_UNITS),
    _plate("plate_gas_rate", "m**3/h", 500),
    heat_in_volume("calorific_value_gross", "gas.{gas}.calorific_value_gross"),
    *_run(""),
    *_run("again"),
    *_run("other"),
    _pressure("other_pressure"),
    *_run("minimum"),
    _pressure("burner_max"),
    _pressure("burner_min"),
    _pressure("meter_working"),
    _pressure("inlet_working"),
    _pressure("meter_standing"),
    _pressure("inlet_standing"),
    _pressure("gauge_open", low=-10),
    Input("tube", "mm", 5, 120, optional=True, uncertainty=STATED),
    Input("tube_length", "m", 0.1, 500, ("ft",), optional=True, uncertainty=STATED),
    Input("elbows", "", 0, 50, optional=True, uncertainty=COUNTED),
    Input("rise", "m", -100, 300, ("ft",), optional=True, uncertainty=STATED),
    Input("collected", "litre", 0.1, 200, optional=True, read_with="vessel"),
    Input("water_elapsed", "s", 2, 3600, ("min",), optional=True, read_with="stopwatch"),
    Input("cold", "degC", 0.1, 60, ("degF",), optional=True, read_with="thermometer"),
    Input("hot", "degC", 0.1, 99, ("degF",), optional=True, read_with="thermometer"),
    *SAMPLE,
    Choice("dioxide_by", ("worked_out", "measured"), default="worked_out"),
    Input("flue_temperature", "degC", 1, 600, ("degF",), optional=True, read_with="probe"),
    Input("air_temperature", "degC", -30, 60, ("degF",), optional=True, read_with="probe"),
    Input("efficiency_shown", "percent", 10, 120, optional=True, uncertainty=STATED),
    Input("carbon_dioxide_expected", "percent", 0.5, 20, optional=True, uncertainty=STATED),
    Instrument("meter", "volume", "m**3", "meter_index_metric", also=("ft**3", "percent")),
    Instrument("stopwatch", "time", "s", default="hand_stopwatch"),
    Instrument("gauge", "pressure", "mbar", "digital_gauge_1dp", also=("percent",)),
    Instrument("vessel", "water_volume", "litre", "marked_vessel", 20, ("percent",)),
    Instrument("thermometer", "temperature", "delta_degC", "contact_thermometer", 20),
    Instrument("probe", "flue_temperature", "delta_degC", "analyser_temperature", 50),
    *SAMPLE_CELLS,
)
USES = (
    *FUEL_USES,
    *FLUE_USES,
    "gas.*.gross_to_net",
    *FLOW_USES,
    LOWEST,
    HIGHEST,
    "billing.volume_correction",
    "pipe.transition_reynolds",
    "pipe.roughness.*",
    "water.heat_capacity",
    "water_saturation",
    "copper_tube",
    "fitting_lengths",
)
# Families of data/cross_check/signatures.yaml, and quantities that may be asked for.
NAMES = (
    *("gas_timing", "gas_timing_again", "second_run", "minimum_run", "burner_max"),
    *("working_pressures", "standing_pressures", "hot_water", "flue_sample"),
    *("efficiency_readings", "plate_input", "plate_input_gross", "plate_burner_max"),
    *("plate_gas_rate", "plate_minimum", "plate_dioxide", "calorific_value", "meter_units"),
    *("gauge_zero", "injector", "another_appliance", "restricted_run", "diluted_sample"),
    *("run_as_typed", "air_supply", "gas_air_ratio", "not_at_full_rate", "unlisted"),
    *("gas_rate", "meter_working", "inlet_working", "water_flow", "hot", "cold", "oxygen"),
)
TAKES = (
    *("gas_rate", "gas_rate_min", "gas_rate_other", "others_off", "plate_gas_rate"),
    *("plate_input_gross", "plate_input", "plate_burner_max", "plate_dioxide", "burner_max"),
    *("burner_min", "burner_other", "inlet_working", "meter_working", "inlet_standing"),
    *("meter_standing", "gauge_open", "water_flow", "hot", "cold", "second_sample"),
    *("carbon_dioxide", "flue_temperature", "calorific_value", "efficiency_shown"),
)
NOTES = (
    *(f"name_{one}" for one in NAMES),
    *(f"take_{one}" for one in TAKES),
    *("explained", "perhaps", "two_wrong", "never_apart", "would_help", "unseen"),
    *("no_burner", "other_burner", "no_gas", "other_gas", "other_appliance"),  # of a visit
)
