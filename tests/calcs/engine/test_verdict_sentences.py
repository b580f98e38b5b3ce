"""The sentence of a verdict, as it is read: reading, uncertainty, limit and what follows."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from calcs.bridge import Bridge
from calcs.calculators.purge import CALCULATOR as PURGE
from tests.tables.rows import TODAY, rows

LIMIT = "The limit is 12.2 to 12.8 mbar."
SURE = "The rule here: the whole uncertainty must be clear of the limit."
MEETS = f"12.50 mbar, give or take 0.09 mbar. {LIMIT} It is met. {SURE}"
MISSES = f"9.80 mbar, give or take 0.08 mbar. {LIMIT} It is not met. {SURE}"
UNSURE = (
    "12.80 mbar, give or take 0.09 mbar. That reaches across the limit, 12.2 to 12.8 mbar. " + SURE
)
INSIDE = (
    f"12.80 mbar, give or take 0.09 mbar. {LIMIT} It is inside, by less than the uncertainty. "
    "The rule here: as it reads, with the uncertainty said."
)
OUTSIDE = (
    f"12.85 mbar, give or take 0.09 mbar. {LIMIT} It is outside, by less than the uncertainty. "
    "The rule here: as it reads, with the uncertainty said."
)
MOSTLY = "The rule here: most of the uncertainty must be clear of the limit."


@pytest.mark.parametrize(
    ("read", "rule", "sentence"),
    [
        ("12.5", "full", MEETS),
        ("9.8", "full", MISSES),
        ("12.8", "full", UNSURE),
        ("12.8", "simple", INSIDE),
        ("12.8", "", INSIDE),
        ("12.8", "by_verdict", INSIDE),
        ("12.85", "simple", OUTSIDE),
        ("12.8", "iso_14253", UNSURE.replace(SURE, MOSTLY)),
    ],
)
def test_a_verdict_reads_well(bundle_text: str, read: str, rule: str, sentence: str) -> None:
    typed = {
        "plate_max": "12.5 mbar",
        "left_max": f"{read} mbar",
        "tolerance": "0.3 mbar",
        "decision_rule": rule,
    }
    request = {
        "action": "run",
        "calculator": "burner_pressure",
        "today": TODAY,
        "inputs": {name: {"value": value} for name, value in typed.items()},
    }
    reply = json.loads(Bridge(bundle_text).answer(json.dumps(request)))
    text = reply["answer"]["verdicts"][0]["text"].replace("\N{NO-BREAK SPACE}", " ")
    assert text.startswith(sentence)


def test_a_verdict_rests_on_verdicts_alone() -> None:
    """A name that none has would hold nothing back."""
    with pytest.raises(ValueError, match="scop"):
        replace(PURGE, rests_on={"purged": ("scop",)})


# What says that nothing the reader can do would tell it.
HOPELESS = ("No instrument", "no instrument", "would not settle it:", "than any instrument")


@pytest.mark.parametrize("rule", ["by_verdict", "simple", "full"])
def test_no_verdict_asks_for_what_it_says_is_no_use(bridge: Bridge, rule: str) -> None:
    seen = 0
    for row in (row for row in rows() if "verdicts" in row.facts):
        request = row.request
        request["inputs"] = {**request["inputs"], "decision_rule": {"value": rule}}
        for one in bridge.reply(request).get("answer", {}).get("verdicts", ()):
            seen += 1
            text = one["text"].replace("\N{NO-BREAK SPACE}", " ")
            is_hopeless = any(words in text for words in HOPELESS)
            assert "± 0 " not in text, (row.id, text)
            assert not (is_hopeless and "finer" in text), (row.id, text)
            assert not (is_hopeless and one["outcome"] != "cannot_tell"), (row.id, text)
            assert not ("No instrument" in text and "again" in text), (row.id, text)
    assert seen > 500


@pytest.mark.parametrize("rule", ["full", "simple"])
@pytest.mark.parametrize("limits", [{"high_limit": "0 mbar"}, {"low_limit": "0 mbar"}], ids=str)
def test_on_a_limit_of_nought_there_is_no_room(
    bridge: Bridge, limits: dict[str, str], rule: str
) -> None:
    found = on_nought(bridge, "0 mbar", rule, limits)
    assert found["outcome"] == "cannot_tell"
    assert "That leaves no room for an uncertainty, so no pass is given." in found["text"]
    assert "good to" not in found["text"]


def test_a_suction_is_clear_of_a_limit_of_nought(bridge: Bridge) -> None:
    """A draught of 1 mbar below nought by a gauge with steps of 0.1 mbar, which leave 0.06."""
    for rule in ("full", "simple"):
        assert on_nought(bridge, "-1 mbar", rule, {"high_limit": "0 mbar"})["outcome"] == "meets"
        assert on_nought(bridge, "1 mbar", rule, {"high_limit": "0 mbar"})["outcome"] != "meets"
        coarse = {"high_limit": "0 mbar", "expanded_uncertainty": "2 mbar"}
        coarse["uncertainty_from"] = "certificate"
        assert on_nought(bridge, "-1 mbar", rule, coarse)["outcome"] == "cannot_tell"


def on_nought(bridge: Bridge, read: str, rule: str, limits: dict[str, str]) -> dict[str, str]:
    typed = {"reading": read, "decision_rule": rule, **limits}
    if "expanded_uncertainty" not in typed:
        typed |= {"instrument": "own", "instrument_resolution": "0.1 mbar"}
        typed |= {"instrument_accuracy": "0 mbar"}
    inputs = {name: {"value": value} for name, value in typed.items()}
    asked = {"action": "run", "calculator": "reading_verdict", "today": TODAY, "inputs": inputs}
    found: dict[str, str] = bridge.reply(asked)["answer"]["verdicts"][0]
    return found
