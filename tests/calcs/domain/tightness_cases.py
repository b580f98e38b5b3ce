"""Tightness tests as a hasty reader may type them, drawn at random."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

DAYS = ("2026-02-01", "2026-09-30", "2026-10-01", "2026-11-25")
METER_VOLUMES = {
    "none": 0.0,
    "ultrasonic_e6": 0.0024,
    "diaphragm_u6_g4": 0.008,
    "diaphragm_u16_g10": 0.025,
    "diaphragm_u25_g16": 0.037,
}
# Step and accuracy, as a half-width or as a share of what is read. The water gauge is read to
# 0.25 mbar, and its errors of zero and scale are in both readings.
GAUGES = {
    "water_gauge": (0.25, 0.0, 0.0),
    "digital_gauge_1dp": (0.1, 0.0, 0.005),
    "digital_gauge_2dp": (0.01, 0.0, 0.005),
}
# Readable movement, IGE/UP/1.
READABLE = {"water": 0.5, "electronic_one_decimal": 0.5, "electronic_two_decimals": 0.1}


def maybe(some: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """What a hasty reader leaves out, now and then."""
    return st.one_of(some, some, some, some, st.none())


def near(usual: list[float], low: float, high: float) -> st.SearchStrategy[float]:
    """Mostly what would be right, so that passes are found; else anything to a tenth."""
    anything = st.integers(int(low * 10), int(high * 10)).map(lambda tenths: tenths / 10)
    return st.one_of(st.sampled_from(usual), st.sampled_from(usual), anything)


ANYTHING = st.fixed_dictionaries(
    {
        "smell_of_gas": st.sampled_from(["no", "no", "no", "yes"]),
        "procedure": st.sampled_from(["small", "small", "industrial_new"]),
        "gas": st.sampled_from(["natural_gas", "natural_gas", "lpg_air", "propane", "butane"]),
        "pipework": st.sampled_from(["existing", "new"]),
        "appliances": st.sampled_from(["connected", "not_connected"]),
        "let_by_start": maybe(near([8.0, 9.0], 0, 40)),
        "let_by_change": near([0.0, 0.0, 0.0, 0.1, -0.1, 0.3], -8, 8),
        "test_start": maybe(near([20.0, 20.5, 20.5, 37.0, 28.0], 0, 60)),
        "test_change": near([0.0, 0.0, -0.1, -0.2, -0.5, -1.0, -3.0], -20, 5),
        "permitted_drop": maybe(near([1.0, 2.0, 4.0], 0, 60)),
        "perceptible_movement": maybe(near([0.2], 0, 6)),
        "own_period": maybe(near([2.0], 0, 10)),
        "elapsed": maybe(near([2.0, 10.0], 1, 20)),
        "installation_volume": maybe(near([0.01, 0.0136, 0.0301, 0.035, 0.3], 0, 2)),
        "meter": maybe(st.sampled_from(sorted(METER_VOLUMES))),
        "largest_pipe": maybe(st.sampled_from([15.0, 22.0, 28.0, 35.0, 42.0])),
        "gauge": st.sampled_from([*GAUGES, "digital_gauge_1dp", "own"]),
        "gauge_resolution": st.sampled_from([0.0, 0.01, 0.1, 0.5, 1.0, 5.0]),
        "gauge_accuracy": st.sampled_from([0.0, 0.05, 0.2, 1.0, 5.0]),
        "edition": st.sampled_from(["in_force", "in_force", "edition_3", "edition_4"]),
        "decision_rule": st.sampled_from(["full", "iso_14253", "simple"]),
        "test_gauge": st.sampled_from(sorted(READABLE)),
        "test_medium": st.sampled_from(["fuel_gas", "air"]),
        "day": st.sampled_from(DAYS),
    }
)
RIGHT: dict[str, Any] = {
    "smell_of_gas": "no",
    "procedure": "small",
    "gas": "natural_gas",
    "pipework": "existing",
    "appliances": "connected",
    "let_by_start": 8.0,
    "let_by_change": 0.0,
    "test_start": 20.5,
    "test_change": 0.0,
    "permitted_drop": None,
    "perceptible_movement": None,
    "own_period": None,
    "elapsed": 2.0,
    "installation_volume": 0.0301,
    "meter": None,
    "largest_pipe": 22.0,
    "gauge": "digital_gauge_1dp",
    "gauge_resolution": 0.1,
    "gauge_accuracy": 0.05,
    "edition": "in_force",
    "decision_rule": "full",
    "test_gauge": "water",
    "test_medium": "fuel_gas",
    "day": "2026-11-25",
}
STARTS: list[dict[str, Any]] = [
    RIGHT,
    RIGHT | {"pipework": "new", "day": "2026-09-30", "perceptible_movement": 0.2},
    RIGHT | {"permitted_drop": 2.0, "test_change": -0.5, "meter": "diaphragm_u6_g4"},
    RIGHT | {"day": "2026-09-30", "meter": "ultrasonic_e6", "test_change": -3.0},
    RIGHT | {"gas": "propane", "test_start": 37.0, "own_period": 2.0},
    RIGHT | {"gauge": "own"},
    RIGHT | {"procedure": "industrial_new", "installation_volume": 0.3, "elapsed": 10.0},
    RIGHT | {"procedure": "industrial_new", "let_by_start": None, "test_medium": "air"},
]


@st.composite
def cases(draw: Any) -> dict[str, Any]:
    """A test that passes, with up to four things changed to anything."""
    start, other = draw(st.sampled_from(STARTS)), draw(ANYTHING)
    changed = draw(st.lists(st.sampled_from(sorted(RIGHT)), max_size=4))
    return {**start, **{name: other[name] for name in changed}}


UNITS = {"own_period": "min", "elapsed": "min", "installation_volume": "m³", "largest_pipe": "mm"}
SMALL_ONLY = (
    *("pipework", "appliances", "permitted_drop", "perceptible_movement", "own_period"),
    *("largest_pipe", "edition"),
)


def typed(case: dict[str, Any]) -> dict[str, str]:
    """The case as a form sends it."""
    found = {name: one for name, one in case.items() if one is not None and name != "day"}
    for test in ("let_by", "test"):
        change = found.pop(f"{test}_change")
        if f"{test}_start" in found:
            found[f"{test}_end"] = round(found[f"{test}_start"] + change, 6)
    small = case["procedure"] == "small"
    for name in ("test_gauge", "test_medium") if small else SMALL_ONLY:
        found.pop(name, None)
    if found["gauge"] != "own":
        del found["gauge_resolution"], found["gauge_accuracy"]
    return {
        name: one if isinstance(one, str) else f"{one!r} {UNITS.get(name, 'mbar')}"
        for name, one in found.items()
    }
