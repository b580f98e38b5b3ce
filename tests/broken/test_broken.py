"""Each rule for authors, with broken files that it must find, in exactly these words."""

from datetime import date
from typing import Any

import pytest

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.problems import in_order
from build_tools.sources.rule import Rule
from tests.broken.stories import FOLDER, RULES, declared, stories
from tests.every_case import try_each
from tests.project_of_texts import from_texts


@pytest.mark.parametrize(("rule", "case"), stories())
def test_a_broken_file_is_named_with_its_fix(rule: Rule, case: dict[str, Any]) -> None:
    calculators = {name: declared(each) for name, each in case.get("calculators", {}).items()}
    day = date.fromisoformat(case.get("day", "2026-11-25"))
    project = from_texts(case["files"], calculators, day)
    found = "\n\n".join(str(problem) for problem in in_order(rule.check(project)))
    assert found == case["expect"].rstrip("\n")


def test_every_rule_has_a_broken_file() -> None:
    assert {path.stem.replace("_", "-") for path in FOLDER.glob("*.yaml")} == set(RULES)


def test_each_rule_says_what_must_hold() -> None:
    for rule in RULES.values():
        assert rule.description.endswith(".")
        assert "\n" not in rule.description


@pytest.mark.parametrize("value", ["", "just text", "[1, [2], {a: b}]", "a: b", "kind: [x]"])
def test_no_rule_stumbles_over_a_half_written_file(value: str) -> None:
    places = (
        "data/limits/flue.yaml",
        "data/gases.yaml",
        "data/tables/pipe_volumes.yaml",
        "data/instruments.yaml",
        "data/sources.yaml",
        "data/scenario/visit.yaml",
        "data/visit_record.yaml",
        "content/calculators/gas_rate.yaml",
        "content/procedures/purging.yaml",
        "content/reference/sources.yaml",
        "content/diagrams/u_gauge.yaml",
        "content/papers/whole_visit.yaml",
        "content/_nav.yaml",
        "content/_home.yaml",
        "content/_words.yaml",
        "calcs/calculators/gas_rate.py",
        "overlays/northmoor/overlay.yaml",
        "overlays/northmoor/words/procedures/purging.yaml",
        "overlays/northmoor/tables/pipe_volumes.yaml",
        "overlays/northmoor/figures/mine.yaml",
        "overlays/northmoor/limits/mine.yaml",
        "overlays/northmoor/sources.yaml",
    )
    given = {"gas_rate": CalculatorSpec(inputs={"method": ("index",)}, outputs=("flow_rate",))}
    project = from_texts(dict.fromkeys(places, value), given, date(2026, 11, 25))

    def tried(rule: Rule) -> None:
        for problem in rule.check(project):
            assert "Fix: " in str(problem)

    try_each(RULES.items(), tried)
