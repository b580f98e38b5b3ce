"""From the form of `cross_check` to the quantities of a visit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.relations import Read
from calcs.domain.cross_check.visit import Kind, case_of
from calcs.domain.pipes.pipe_catalogue import FITTINGS, LENGTHS, cell, millimetres, tube_of, tubes
from calcs.domain.pipes.pipe_flow import Pipe
from calcs.engine.in_force import InForce
from calcs.engine.traced import Traced, si
from calcs.engine.units import Q

# Timed runs: the name of the quantity, and the inputs of volume and time.
RUNS = {
    "gas_rate": ("volume", "elapsed"),
    "gas_rate_again": ("again_volume", "again_elapsed"),
    "gas_rate_other": ("other_volume", "other_elapsed"),
    "gas_rate_min": ("minimum_volume", "minimum_elapsed"),
}
# Inputs that are quantities as they stand, by the name of the quantity.
PRESSURES = {
    "burner_max": "burner_max",
    "burner_min": "burner_min",
    "burner_other": "other_pressure",
    "meter_working": "meter_working",
    "inlet_working": "inlet_working",
    "meter_standing": "meter_standing",
    "inlet_standing": "inlet_standing",
    "gauge_open": "gauge_open",
}
PLATE = {
    "plate_input": "plate_input",
    "plate_input_gross": "plate_input_gross",
    "plate_input_min": "plate_input_min",
    "plate_burner_max": "plate_max",
    "plate_burner_min": "plate_min",
    "plate_gas_rate": "plate_gas_rate",
    "plate_dioxide": "carbon_dioxide_expected",
    "efficiency_shown": "efficiency_shown",
}
TEMPERATURES = ("cold", "hot", "flue_temperature", "air_temperature")
CELLS = ("oxygen", "carbon_dioxide")


def case_from(given: Mapping[str, Any], ref: InForce) -> Case:
    """The case of what was typed."""
    read = dict(_read(given))
    value = given["calorific_value_gross"]
    read["calorific_value"] = Read(si(value), _own(value, shared=False))
    kind = Kind(
        burner=given["burner"],
        gas=given["gas"],
        pipe=_pipe(given, ref),
        rise=si(given["rise"]) if given["rise"] is not None else 0.0,
        separate_cell=given["dioxide_by"] == "measured",
    )
    return case_of(read, kind, _accuracies(given), ref)


def rate(volume: Q, elapsed: Q) -> Q:
    """Metered flow of one run."""
    return (volume / elapsed).to("m**3/h")


def _read(given: Mapping[str, Any]) -> Any:
    for name, (volume, elapsed) in RUNS.items():
        if given[volume] is not None and given[elapsed] is not None:
            yield name, _quotient(given[volume], given[elapsed])
    if given["collected"] is not None and given["water_elapsed"] is not None:
        yield "water_flow", _quotient(given["collected"], given["water_elapsed"], shared=False)
    for name, field in PRESSURES.items():
        if given[field] is not None:
            yield name, Read(si(given[field]), _own(given[field], shared=True))
    for name, field in PLATE.items():
        if given[field] is not None:
            yield name, Read(si(given[field]))
    for name in (*TEMPERATURES, *CELLS):
        if given[name] is not None:
            yield name, Read(si(given[name]), _own(given[name], shared=False))


def _own(value: Q, *, shared: bool) -> float:
    """Standard uncertainty of a reading's own: its step where its accuracy is its instrument's."""
    if not isinstance(value, Traced) or value.standard_uncertainty is None:
        return 0.0
    if shared and value.uncertainty_parts is not None:
        return value.uncertainty_parts.step
    return si(value.standard_uncertainty)


def _quotient(amount: Q, elapsed: Q, *, shared: bool = True) -> Read:
    value = si(amount) / si(elapsed)
    parts = (_own(amount, shared=shared) / si(amount), _own(elapsed, shared=False) / si(elapsed))
    return Read(value, value * math.sqrt(parts[0] * parts[0] + parts[1] * parts[1]))


def _accuracies(given: Mapping[str, Any]) -> dict[str, float]:
    """Accuracy of the meter and of the gauge, as a share of what they read: the least of each."""
    found = {}
    fields = {"meter": [volume for volume, _ in RUNS.values()], "gauge": [*PRESSURES.values()]}
    for instrument, names in fields.items():
        shares = [
            value.uncertainty_parts.accuracy / abs(si(value))
            for name in names
            if isinstance(value := given[name], Traced)
            and value.uncertainty_parts is not None
            and abs(si(value)) > 0
        ]
        found[instrument] = min(shares, default=0.0)
    return found


def _pipe(given: Mapping[str, Any], ref: InForce) -> Pipe | None:
    """The run of copper tube, its elbows counted in where their lengths are held."""
    if given["tube"] is None or given["tube_length"] is None:
        return None
    tube = tube_of(tubes("copper", ref), given["tube"], "tube")
    added = 0.0 if given["elbows"] is None else si(given["elbows"]) * _elbow(tube.size, ref)
    return Pipe(si(given["tube_length"]) + added, tube.bore, tube.roughness)


def _elbow(size: float, ref: InForce) -> float:
    """What an elbow counts as, in metres; nothing where the table does not hold that size."""
    return next(
        (
            cell(row["length"])
            for row in ref.rows(LENGTHS)
            if row["fitting"] == FITTINGS["elbows"] and millimetres(row["size"]) == size
        ),
        0.0,
    )
