"""The form of an exported visit, by a general validator: it says the same as our own reader.

`tests/web/visit_record.test.mjs` reads the same files with the reader of the page.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from build_tools.setup.paths import WEB

FILES = Path(__file__).parent / "visits"
WHOLE = json.loads((FILES / "whole.json").read_text("utf-8"))
DAMAGED = json.loads((FILES / "damaged.json").read_text("utf-8"))
SCHEMA = json.loads((WEB / "src/visit/visit_record.schema.json").read_text("utf-8"))


def changed(case: dict[str, Any]) -> Any:
    """The whole file with one value put in, or taken out."""
    value = copy.deepcopy(WHOLE)
    *way, last = case["at"]
    owner = value
    for key in way:
        owner = owner[key]
    if "put" in case:
        owner[last] = case["put"]
    else:
        del owner[last]
    return value


def test_the_form_is_a_schema_and_the_whole_file_has_it():
    Draft202012Validator.check_schema(SCHEMA)
    Draft202012Validator(SCHEMA).validate(WHOLE)


@pytest.mark.parametrize("case", DAMAGED, ids=lambda case: case["id"].replace(" ", "-"))
def test_a_damaged_file_has_it_not(case):
    is_valid = Draft202012Validator(SCHEMA).is_valid(changed(case))
    # What no schema can say, our reader refuses all the same.
    assert is_valid == case.get("only_ours", False)


def test_the_form_of_a_card_is_a_schema_and_a_file_of_cards_has_it():
    schema = json.loads((WEB / "src/visit/appliance_card.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    cards = json.loads((FILES / "cards.json").read_text("utf-8"))
    Draft202012Validator(schema).validate(cards)
    assert not Draft202012Validator(schema).is_valid({**cards, "cards": [{}]})
