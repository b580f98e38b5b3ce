"""Burner pressure: maximum and minimum against the data plate, and which way to turn."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.charts.burner_pressure import SHAPES, input_chart
from calcs.domain.gas.data_plate import BASES_USED, PLATE_INPUT, PLATE_INPUT_GROSS, check_bases
from calcs.domain.gas.supply import GOVERNING, GOVERNING_RULINGS, governing
from calcs.domain.plausibility.kpa_for_mbar import kilopascal_note
from calcs.engine.declarations import STATED, Calculator, Choice, Cite, Input, Instrument, Output
from calcs.engine.errors import Impossible, InputName, Missing
from calcs.engine.findings import SETTING, Compare, Finding, Note, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.traced_functions import square_root
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

STAGES = ("found", "left", "cover")
READINGS = tuple(f"{stage}_{end}" for stage in STAGES for end in ("max", "min"))
TOLERANCE = "burner_pressure.tolerance_fixed"
IN_INSTRUCTIONS = "burner_pressure.tolerance_instructions"
HABIT_WIDEST = "burner_pressure.tolerance_widest"
WIDEST = 0.25  # as a share of the plate: more can be no tolerance
ROUNDING_TOLERANCE = 1e-6  # Pa, for the last digits of a float


def burner_pressure(
    *,
    control: str,
    plate_max: Q,
    plate_min: Q | None = None,
    found_max: Q | None = None,
    found_min: Q | None = None,
    left_max: Q | None = None,
    left_min: Q | None = None,
    cover_max: Q | None = None,
    cover_min: Q | None = None,
    inlet_working: Q | None = None,
    plate_input: Q | None = None,
    plate_input_gross: Q | None = None,
) -> dict[str, Q | None]:
    """Heat input that a burner pressure implies: as found, as left and with the cover on.

    At a fixed injector and gas the flow goes with the square root of the pressure across it.

    Args:
        control: "modulating", "fixed" or "premix": how the burner follows the demand.
        plate_max: Maximum burner pressure on the data plate. [mbar]
        plate_min: Minimum burner pressure on the data plate. [mbar]
        found_max: Maximum as found. [mbar]
        found_min: Minimum as found. [mbar]
        left_max: Maximum as left. [mbar]
        left_min: Minimum as left. [mbar]
        cover_max: Maximum with the case cover on. [mbar]
        cover_min: Minimum with the case cover on. [mbar]
        inlet_working: Working pressure at the appliance inlet at full load. [mbar]
        plate_input: Heat input on the data plate at the maximum, net. [kW]
        plate_input_gross: The same, gross. [kW]

    Returns:
        input_<reading>: Heat input that the reading implies, net. [kW]
        input_gross_<reading>: The same, gross, where the plate gives no net one. [kW]

    Raises:
        Impossible: The appliance is premix, a minimum is not below its maximum, or a burner
            pressure is above the inlet's.
        Missing: No reading was given.

    Not covered: premix appliances, whose gas follows the air and is never set by burner pressure,
    and a pressure in the case or the combustion chamber other than the room's.

    >>> from calcs.engine.units import Quantity
    >>> implied = burner_pressure(
    ...     control="fixed",
    ...     plate_max=Quantity(16, "mbar"),
    ...     left_max=Quantity(4, "mbar"),
    ...     plate_input=Quantity(24, "kW"),
    ... )
    >>> implied["input_left_max"].magnitude
    12.0
    """
    if control == "premix":
        raise Impossible("control", "premix")
    readings = dict(
        zip(READINGS, (found_max, found_min, left_max, left_min, cover_max, cover_min), strict=True)
    )
    _check(readings, plate_max, plate_min, inlet_working)
    gross = plate_input_gross if plate_input is None else None  # one basis is enough to read
    plates = {"input": plate_input, "input_gross": gross}
    return {
        f"{basis}_{name}": None
        if reading is None or plate is None
        else plate * square_root(reading / plate_max)
        for basis, plate in plates.items()
        for name, reading in readings.items()
    }


def _check(
    readings: Mapping[str, Q | None], plate_max: Q, plate_min: Q | None, inlet: Q | None
) -> None:
    if all(reading is None for reading in readings.values()):
        raise Missing("found_max", "nothing_read")
    _refuse_upside_down("plate_max", plate_max, "plate_min", plate_min)
    for stage in STAGES:
        high, low = f"{stage}_max", f"{stage}_min"
        _refuse_upside_down(high, readings[high], low, readings[low])
    for name, reading in readings.items():
        if reading is None or inlet is None:
            continue
        excess = reading - inlet
        if excess.magnitude > 0 and excess > expanded(excess):
            raise Impossible(name, "above_supply")


def _refuse_upside_down(high: str, most: Q | None, low: str, least: Q | None) -> None:
    if most is not None and least is not None and least >= most:
        raise Impossible(low, "upside_down", high=InputName(high))


def judge(*, given: Mapping[str, Any], ref: Any, **_: Any) -> list[Finding]:
    """Every reading against the plate, then what to turn, in the order to turn it.

    Raises:
        Impossible: The tolerance is too wide to be one, or net and gross of the plate are not of
            one heat input.
    """
    _check_tolerance(given)
    check_bases(given["plate_input"], given["plate_input_gross"], ref)
    typed = given["tolerance"].role == "input"
    figures = ("burner_pressure.maximum",) if typed else (TOLERANCE,)
    findings: list[Finding] = []
    for name in READINGS:
        plate, reading = given[f"plate_{name[-3:]}"], given[name]
        if plate is None or reading is None:
            continue
        if not _has_tolerance(given, name, ref):
            findings.append(_waits(name, reading, plate))
            continue
        low, high = plate - given["tolerance"], plate + given["tolerance"]
        findings.append(Compare(name, reading, low, high, figures, rule=SETTING))
    maxima = (given[name] for name in READINGS if name.endswith("max"))
    ungoverned = _ungoverned(given)
    # Nobody should turn an adjuster for a gauge in another unit, nor of a valve that stands open.
    notes = kilopascal_note(maxima, given["plate_max"])
    findings += notes or ([] if ungoverned else _turns(given, ref))
    if _cover_moves(given):
        findings.append(Note("cover_moves"))
    if given["control"] == "modulating" and given["plate_min"] is None:
        findings.append(Note("minimum_unknown"))
    return [*ungoverned, *findings, input_chart(given)]


def _ungoverned(given: Mapping[str, Any]) -> list[Finding]:
    """That the valve governs nothing, by the last maximum and the last minimum that were read."""
    inlet = given["inlet_working"]
    if inlet is None:
        return []
    ends = ([given[f"{stage}_{end}"] for stage in reversed(STAGES)] for end in ("max", "min"))
    last = [next((each for each in end if each is not None), None) for end in ends]
    told = [governing(reading, inlet) for reading in last if reading is not None]
    found: list[Finding] = [each for each in told if each is not None]
    return found[:1]


def _has_tolerance(given: Mapping[str, Any], end: str, ref: Any) -> bool:
    """Whether the tolerance says anything of this end.

    The habit of the trade is for the maximum: at a minimum of 2 mbar, 0.5 would be a quarter. Nor
    is it for a burner whose maximum is so low that it would be more than ten percent.
    """
    tolerance, plate = given["tolerance"], given[f"plate_{end[-3:]}"]
    if tolerance.role != "input":
        widest = si(ref[HABIT_WIDEST]) * si(plate)
        return end.endswith("max") and si(tolerance) <= widest + ROUNDING_TOLERANCE
    return end.endswith("max") or si(tolerance) <= WIDEST * si(plate) + ROUNDING_TOLERANCE


def _check_tolerance(given: Mapping[str, Any]) -> None:
    """Refuse a tolerance that would let nearly any pressure by.

    Raises:
        Impossible: It is more than a quarter of the plate's maximum.
    """
    tolerance, plate = given["tolerance"], given["plate_max"]
    if tolerance.role == "input" and si(tolerance) > WIDEST * si(plate) + ROUNDING_TOLERANCE:
        raise Impossible("tolerance", "more_than_a_quarter")


def _waits(name: str, reading: Q, plate: Q) -> Ruling:
    shown = {
        key: join_unit(round_half_up(float(value.to("mbar").magnitude), 1), "mbar")
        for key, value in (("reading", reading), ("plate", plate))
    }
    return Ruling(name, "not_judged", "tolerance_unknown", (IN_INSTRUCTIONS,), shown)


def _turns(given: Mapping[str, Any], ref: Any) -> list[Finding]:
    """Which way to turn from the last readings with the cover off: maximum before minimum.

    With the cover on nothing is turned: that reading counts, and what moved it is looked for first.
    """
    stage = "left" if given["left_max"] is not None or given["left_min"] is not None else "found"
    turns: list[Finding] = []
    for end in ("max", "min"):
        reading, plate = given[f"{stage}_{end}"], given[f"plate_{end}"]
        if reading is None or plate is None or not _has_tolerance(given, end, ref):
            continue
        if given[f"cover_{end}"] is not None:
            continue
        if abs(reading - plate) <= given["tolerance"]:
            continue
        turns.append(Note(f"{end}_{'lower' if reading > plate else 'raise'}"))
    if turns:
        turns.append(Note("order"))
    return turns


def _cover_moves(given: Mapping[str, Any]) -> bool:
    for end in ("max", "min"):
        off, on = given[f"left_{end}"], given[f"cover_{end}"]
        if off is None or on is None:
            continue
        moved = on - off
        if abs(moved) > expanded(moved):
            return True
    return False


def _pressure(name: str, *, read: bool, optional: bool = True) -> Input:
    return Input(
        name,
        "mbar",
        low=0.1,
        high=200,
        also=("kPa", "inWG"),
        optional=optional,
        read_with="gauge" if read else None,
        uncertainty=None if read else STATED,
    )


CALCULATOR = Calculator(
    formula=burner_pressure,
    inputs=(
        Choice("control", ("modulating", "fixed", "premix"), default="modulating"),
        _pressure("plate_max", read=False, optional=False),
        _pressure("plate_min", read=False),
        *(_pressure(name, read=True) for name in READINGS),
        _pressure("inlet_working", read=True),
        PLATE_INPUT,
        PLATE_INPUT_GROSS,
        Input(
            "tolerance",
            "mbar",
            low=0.01,
            high=20,
            also=("kPa", "inWG"),
            default=TOLERANCE,
            uncertainty=STATED,
        ),
        Instrument("gauge", "pressure", "mbar", "digital_gauge_1dp", also=("percent",)),
    ),
    outputs=tuple(
        Output(f"{basis}_{name}", "kW", places=2)
        for name in READINGS
        for basis in ("input", "input_gross")
    ),
    sources=(Cite("burner_orifice_textbook", "flow through an orifice"),),
    uses=(TOLERANCE, HABIT_WIDEST, IN_INSTRUCTIONS, "burner_pressure.maximum", *BASES_USED),
    judge=judge,
    verdicts=(GOVERNING, *READINGS),
    notes=(
        "max_raise",
        "max_lower",
        "min_raise",
        "min_lower",
        "order",
        "cover_moves",
        "minimum_unknown",
        "kilopascal",
    ),
    rulings=("tolerance_unknown", *GOVERNING_RULINGS),
    refusals=(
        "premix",
        "nothing_read",
        "upside_down",
        "above_supply",
        "more_than_a_quarter",
        "bases_apart",
    ),
    charts=SHAPES,
    rests_on=dict.fromkeys(READINGS, (GOVERNING,)),
)
