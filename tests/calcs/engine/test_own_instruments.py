"""Instruments that a reader owns: how good they are decides what their readings can tell.

The instruments here are invented. Uncertainty by hand: U = 2·√((step ÷ 2√3)² + (accuracy ÷ √3)²),
JCGM 100, 4.3.7 and 6.3.3. A reading outside its limits by more than U does not meet them, inside by
more than U meets them, and a U above half of the distance between the limits passes nothing
(calcs/engine/decide.py).
"""

from __future__ import annotations

import pytest

TODAY = "2026-11-28"
STEP = "burner_pressure.found_maximum"
# The plate says 12.5 mbar and the instructions ± 0.3 mbar: 12.2 to 12.8 is accepted.
READINGS = {
    "plate.burner_pressure_max": "12.5",
    "instructions.burner_pressure_tolerance": "0.3",
}


def gauge(**more: str) -> dict[str, str]:
    return {"kind": "digital_gauge_2dp", "name": "Blue box", "serial": "A 17", **more}


def line(bridge, found: str, *instruments: dict[str, str], step: str = STEP, **readings: str):
    typed = {**READINGS, "burner_pressure.found_max": found, **readings}
    asked = {
        "action": "outcomes",
        "today": TODAY,
        "readings": {name: {"value": text} for name, text in typed.items()},
        "steps": [step],
    }
    return bridge.reply({**asked, "instruments": list(instruments)})["outcomes"][step]


def told(bridge, *instruments: dict[str, str]):
    reply = bridge.reply({"action": "own", "today": TODAY, "instruments": list(instruments)})
    return reply["instruments"]


def test_without_one_nothing_is_said(bridge):
    assert line(bridge, "12.5")["own"] is None


def test_the_readers_gauge_takes_the_place_of_the_usual_one(bridge):
    # U = 2·√((0.01 ÷ 2√3)² + (0.02 ÷ √3)²) = 0.0238, shown as it is in the record.
    found = line(bridge, "12.5", gauge(resolution="0.01 mbar", accuracy="0.02 mbar"))
    assert found["scale"]["expanded"] == pytest.approx(0.0238, abs=0.00005)
    copy = {
        **gauge(resolution="0.01\N{NO-BREAK SPACE}mbar", accuracy="0.02\N{NO-BREAK SPACE}mbar"),
        "calibrated_until": "",
    }
    assert found["own"]["instruments"] == [copy]
    told_of = found["own"]["text"].replace("\N{NO-BREAK SPACE}", " ")
    assert told_of == "Your own: Blue box, step 0.01 mbar, ± 0.02 mbar."
    assert found["own"]["is_past"] is False
    # The record says it too.
    assert all(each["text"].endswith(found["own"]["text"]) for each in found["verdicts"])


def test_a_coarse_one_passes_nothing(bridge):
    # U = 2·√((0.5 ÷ 2√3)² + (0.5 ÷ √3)²) = 0.645, above half of 12.8 − 12.2.
    coarse = {"kind": "water_gauge", "resolution": "0.5 mbar", "accuracy": "0.5 mbar"}
    assert line(bridge, "12.5")["state"] == "within"
    assert line(bridge, "12.5", coarse)["state"] == "too_close"
    assert line(bridge, "14", coarse)["state"] == "outside"


def test_what_is_left_empty_is_as_usual_for_its_kind(bridge):
    usual = line(bridge, "12.5", {"kind": "digital_gauge_1dp"})
    assert usual["scale"] == line(bridge, "12.5")["scale"]
    assert "Digital gauge, one decimal" in usual["own"]["text"]


def test_one_of_another_kind_takes_no_such_reading(bridge):
    tape = {"kind": "tape_measure", "name": "Tape", "accuracy": "10 mm"}
    assert line(bridge, "12.5", tape)["own"] is None


def test_one_whose_calibration_is_past_is_named(bridge):
    past = gauge(calibrated_until="2026-11-27")
    found = line(bridge, "12.5", past)["own"]
    assert found["is_past"]
    assert "Its calibration ended on 27 November 2026." in found["text"]
    # The last day counts.
    assert not line(bridge, "12.5", gauge(calibrated_until=TODAY))["own"]["is_past"]
    assert [each["state"] for each in told(bridge, past, gauge(calibrated_until=TODAY))] == [
        "past",
        "used",
    ]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"kind": "wand"}, "knows no such kind"),
        ({"resolution": "0 mbar"}, "must be above nought"),
        ({"accuracy": "-1 percent"}, "must be above nought"),
        ({"resolution": "fine"}, "must be a number"),
        ({"resolution": "0.01 kW"}, "cannot be in"),
        ({"resolution": "0.0001 mbar"}, "20 times finer"),  # usual: 0.01 mbar
        ({"accuracy": "0.02 percent"}, "20 times finer"),  # usual: 0.5 %
        ({"calibrated_until": "next May"}, "Next due"),
    ],
)
def test_one_that_can_be_none_is_refused_and_not_used(bridge, more, words):
    wrong = gauge(**more)
    [reply] = told(bridge, wrong)
    assert reply["state"] == "refused"
    assert words in reply["text"]
    assert line(bridge, "12.5", wrong)["own"] is None
    # Another beside it is used all the same.
    assert [each["state"] for each in told(bridge, wrong, gauge())] == ["refused", "used"]


@pytest.mark.parametrize("given", ["7", {}, ["gauge"]])
def test_another_form_is_refused_by_name(bridge, given):
    for action in ("own", "outcomes"):
        [refusal] = bridge.reply({"action": action, "today": TODAY, "instruments": given})[
            "refused"
        ]
        assert refusal["kind"] == "wrong_form"


def test_a_calculator_takes_its_figures_where_that_kind_is_chosen(bridge):
    asked = {
        "calculator": "reading_verdict",
        "today": TODAY,
        "inputs": {
            "reading": {"value": "12.5 mbar"},
            "low_limit": {"value": "12.2 mbar"},
            "high_limit": {"value": "12.8 mbar"},
            "instrument": {"value": "digital_gauge_2dp"},
        },
    }
    coarse = gauge(resolution="0.5 mbar", accuracy="0.5 mbar")

    def outcome(request):
        return bridge.reply(request)["answer"]["verdicts"][0]["outcome"]

    assert outcome(asked) == "meets"
    assert outcome({**asked, "instruments": [coarse]}) == "cannot_tell"


def test_an_analyser_that_is_off_by_parts_in_a_million_is_no_finer_than_one_in_percent(bridge):
    coarse = {"kind": "analyser_carbon_monoxide", "accuracy": "300 ppm"}
    [kept] = told(bridge, coarse)
    assert "refused" not in kept
    # Half of the 30 ppm to stop at is 15, and U is 2 × 300 ÷ √3 = 346.
    asked = {"step": "combustion_check.room_air", "room.carbon_monoxide_off": "5"}
    assert line(bridge, "12.5", coarse, **asked)["state"] == "too_close"


RUN_IN_FEET = {
    "plate.heat_input_net": {"value": "27.5"},
    "gas.calorific_value_gross": {"value": "39.3"},
    "gas_rate.again_volume": {"value": "1", "unit": "ft³"},
    "gas_rate.again_elapsed": {"value": "36"},
}


def run_in_feet(bridge, *kinds: str):
    asked = {"action": "outcomes", "today": TODAY, "readings": RUN_IN_FEET}
    owned = [{"kind": kind} for kind in kinds]
    step = "gas_rate.time_again"
    return bridge.reply({**asked, "steps": [step], "instruments": owned})["outcomes"][step]


def test_a_test_dial_among_the_readers_own_is_what_a_run_in_cubic_feet_was_read_on(bridge):
    # 1 ft³ in 36 s is 2.8317 m³/h; × 39.3 ÷ 3.6 ÷ 1.11 = 27.85 kW of 27.5.
    found = run_in_feet(bridge, "meter_test_dial")
    assert (found["state"], found["own"]["instruments"][0]["kind"]) == ("within", "meter_test_dial")
    # By an index two readings to 1 ft³ are 0.82 ft³ of the one that passed.
    assert run_in_feet(bridge)["state"] == "too_close"
    assert run_in_feet(bridge, "meter_index_imperial")["state"] == "too_close"
