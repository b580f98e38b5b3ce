"""The sentence of a verdict, as it is read: reading, uncertainty, limit and what follows."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from calcs.bridge import Bridge
from calcs.calculators.purge import CALCULATOR as PURGE
from tests.rows import TODAY

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
