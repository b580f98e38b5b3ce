"""Carbon monoxide in a room: readings over time, air changes, and when an alarm must sound."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from itertools import pairwise
from typing import Any

from calcs.charts.co_in_room import OVER_TIME, time_chart
from calcs.domain.air.air_readings import mean_between, rate_of_fall, worst_mean
from calcs.domain.air.co_findings import (
    ALARMS,
    GUIDELINES,
    STOP,
    alarm_bounds,
    closest_guideline,
    co_findings,
)
from calcs.engine.declarations import (
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    Rows,
    TableShape,
    When,
)
from calcs.engine.errors import Impossible
from calcs.engine.findings import Finding
from calcs.engine.traced import Traced, UncertaintyParts, si
from calcs.engine.traced_functions import apply, largest
from calcs.engine.uncertainty import expanded, read_by
from calcs.engine.units import Q, Quantity, at_most

LOW_RANGE, LOW_ACCURACY = (
    "carbon_monoxide.analyser_low_range",
    "carbon_monoxide.analyser_low_accuracy",
)
FEWEST = 3  # two points always lie on a line
FEWEST_OVER_TIME = 2  # one reading is enough to stop at, and nothing lasts from it to itself


def co_in_room(
    *,
    question: str,
    readings: tuple[Mapping[str, Q], ...] | None = None,
    background: Q | None = None,
    alarm_gas: Q | None = None,
    analyser_resolution: Q | None = None,
    analyser_accuracy: Q | None = None,
    ref: Any,
) -> dict[str, Q | None]:
    """What readings of the air of a room say, or when an alarm must sound.

    Args:
        question: "readings" or "alarm".
        readings: `time` and `carbon_monoxide` in the order of the clock. [min], [ppm]
        background: Reading outdoors, or in the room before anything was lit. [ppm]
        alarm_gas: Carbon monoxide that the alarm is in. [ppm]
        analyser_resolution: Step of the analyser. [ppm]
        analyser_accuracy: Half-width of its error, [ppm] or [percent]
        ref: Uses `carbon_monoxide.*`, `carbon_monoxide_guidelines` and `alarm_times`.

    Returns:
        highest: Highest reading. [ppm]
        mean: Mean over the whole time. [ppm]
        guideline_period: Period of the guideline that the readings come closest to. [min]
        guideline_mean: Highest mean over such a period. [ppm]
        guideline: Most that the guideline for it allows. [ppm]
        air_changes: How often an hour the air of the room is replaced, from the fall. [1/hour]
        silent_before: Time before which an alarm may not sound. [min]
        sounds_by: Time by which it must sound. [min]

    Raises:
        Impossible: The times do not ascend.

    Not covered: where the gas comes from, what it has done to anyone, and air that mixes badly.

    >>> table = type("Ref", (dict,), {"rows": lambda self, name: ()})
    >>> found = co_in_room(
    ...     question="readings",
    ...     readings=(
    ...         {"time": Quantity(0, "min"), "carbon_monoxide": Quantity(10, "ppm")},
    ...         {"time": Quantity(10, "min"), "carbon_monoxide": Quantity(20, "ppm")},
    ...     ),
    ...     ref=table(),
    ... )
    >>> found["highest"].magnitude, round(found["mean"].magnitude, 9)
    (20, 15.0)
    """
    if question == "alarm" or readings is None:
        return dict(zip(("silent_before", "sounds_by"), alarm_bounds(ref, alarm_gas), strict=True))
    _check_times(readings)
    values = [reading["carbon_monoxide"] for reading in readings]
    for value in (*values, background):
        _uncertainty_at_the_low_end(value, analyser_resolution, analyser_accuracy, ref)
    if len(readings) < FEWEST_OVER_TIME:
        return {"highest": values[0]}
    times = [si(reading["time"]) for reading in readings]
    whole = partial(_of_values, mean_between, times, times[0], times[-1])
    found: dict[str, Q | None] = {
        "highest": largest(*values),
        "mean": _mean("mean over time of", whole, values),
    }
    if (closest := closest_guideline(ref, times, [si(value) for value in values])) is not None:
        row, start = closest
        period = ref.cell(GUIDELINES, row["period"], "Period of the guideline").to("min")
        stretch = partial(_of_values, worst_mean, times, start, si(period))
        found["guideline_period"] = period
        found["guideline_mean"] = _mean("highest mean of", stretch, values)
        found["guideline"] = ref.cell(GUIDELINES, row["share"], "Guideline")
    if background is not None:
        found["air_changes"] = _air_changes(times, values, background)
    return found


def _mean(name: str, function: Callable[..., float], values: list[Q]) -> Q:
    """Mean of readings that one analyser took: its error is in all of them and does not average."""
    mean = apply(name, function, *values, unit="ppm")
    if isinstance(mean, Traced):
        uncertainties = [getattr(value, "standard_uncertainty", None) for value in values]
        shared = function(
            *(0.0 if uncertainty is None else si(uncertainty) for uncertainty in uncertainties)
        )
        mean.standard_uncertainty = Quantity(shared, "")
        parts = [getattr(value, "uncertainty_parts", None) for value in values]
        if all(parts):
            steps, accuracies = (
                function(*(getattr(one, part) for one in parts)) for part in ("step", "accuracy")
            )
            mean.uncertainty_parts = UncertaintyParts("analyser", steps, accuracies)
    return mean


def _of_values(function: Any, times: list[float], *arguments: float) -> float:
    """Put values that come last where the functions of a series take them."""
    bounds, values = arguments[:2], arguments[2:]
    return float(function(times, values, *bounds))


def _check_times(readings: tuple[Mapping[str, Q], ...]) -> None:
    for before, after in pairwise(readings):
        if si(after["time"]) - si(before["time"]) < si(Quantity(1.0, "s")):
            field = f"readings[{after['row'] - 1}].time"
            raise Impossible(field, "not_later", row=after["row"])


def _uncertainty_at_the_low_end(
    value: Q | None, resolution: Q | None, accuracy: Q | None, ref: Any
) -> None:
    """An accuracy in percent gives way to a fixed step where the reading is low."""
    if not isinstance(value, Traced) or resolution is None or accuracy is None:
        return
    low = ref[LOW_ACCURACY]
    is_share = str(accuracy.units) == "percent"
    if is_share and at_most(value, ref[LOW_RANGE]) and si(accuracy) * si(value) < si(low):
        read_by(value, "analyser", resolution, low)


def _air_changes(times: list[float], values: list[Q], background: Q) -> Q | None:
    """Fall after the peak, by the readings that stand clear of the background."""
    plain = [si(value) for value in values]
    peak = max(place for place, value in enumerate(plain) if value == max(plain))
    above: list[Q] = []
    for value in values[peak:]:
        excess = value - background
        if excess.magnitude <= 0 or excess <= expanded(excess):
            break
        above.append(excess)
    if len(above) < FEWEST:
        return None
    during = times[peak : peak + len(above)]
    fall = apply(
        "rate of fall of",
        lambda *excesses: rate_of_fall(during, excesses),
        *above,
        unit="hour**-1",
    )
    return fall if fall.magnitude > 0 else None


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Readings against the level at which work stops and the guidelines, or the alarm's time."""
    findings = co_findings(given, answers, ref)
    if given["question"] == "alarm" or "mean" not in answers:
        return findings
    return [*findings, _over_time(given, answers, ref)]


def _over_time(given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> Finding:
    times = [si(reading["time"]) for reading in given["readings"]]
    values = [si(reading["carbon_monoxide"]) for reading in given["readings"]]
    closest = closest_guideline(ref, times, values)
    return time_chart(given, answers, closest[1] if closest else 0.0, ref[STOP])


READINGS, ALARM = (When("question", (asked,)) for asked in ("readings", "alarm"))


def _gas(name: str, **more: Any) -> Input:
    return Input(name, "ppm", 0, 10000, ("percent",), **more)


CALCULATOR = Calculator(
    formula=co_in_room,
    inputs=(
        Choice("question", ("readings", "alarm"), default="readings"),
        Rows(
            "readings",
            (
                Input("time", "min", 0, 3000, ("s", "h"), uncertainty=STATED),
                _gas("carbon_monoxide", read_with="analyser"),
            ),
            low=1,
            high=40,
            when=READINGS,
        ),
        _gas("background", optional=True, when=READINGS, read_with="analyser"),
        _gas("alarm_gas", when=ALARM, uncertainty=STATED),
        Choice("sounded", ("yes", "no"), when=ALARM),
        Input("alarm_time", "min", 0, 3000, ("s", "h"), when=ALARM, read_with="stopwatch"),
        Instrument(
            "analyser", "carbon_monoxide", "ppm", "analyser_carbon_monoxide", 100, ("percent",)
        ),
        Instrument("stopwatch", "time", "s", "hand_stopwatch"),
    ),
    outputs=(
        Output("highest", "ppm", places=1),
        Output("mean", "ppm", places=1),
        Output("guideline_period", "min", places=0),
        Output("guideline_mean", "ppm", places=1),
        Output("guideline", "ppm", places=0),
        Output("air_changes", "hour**-1", places=1),
        Output("silent_before", "min", places=0),
        Output("sounds_by", "min", places=0),
    ),
    sources=(
        Cite("bs_7967", "room tests"),
        Cite("who_guidelines", "carbon monoxide"),
        Cite("iso_12569", "decay method"),
        Cite("en_50291", "alarm conditions"),
    ),
    uses=(STOP, LOW_RANGE, LOW_ACCURACY, GUIDELINES, ALARMS),
    judge=judge,
    verdicts=("room", "guideline", "alarm"),
    notes=("no_fall",),
    rulings=("one_reading", "too_short", "need_not_sound", "should_have_sounded", "has_time_left"),
    refusals=("not_later", "meant_in_percent", "between_steps_of_watch"),
    tables=(
        TableShape(
            "guidelines",
            columns=(
                Output("period", "", places=0),
                Output("guideline", "ppm", places=0),
                Output("mean", "ppm", places=1),
            ),
        ),
    ),
    charts=(OVER_TIME,),
)
