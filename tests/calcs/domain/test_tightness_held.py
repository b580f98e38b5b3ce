"""Edition 4's table, once an overlay of the reader's own holds it: the volume finds its drop.

The figures here are made up. They are no figures of the edition.
"""

from __future__ import annotations

import json

import pytest

from calcs.bridge import Bridge
from tests.calcs.domain.tightness_asked import ask, verdict

TABLE = "permissible_drop_natural_gas"
MADE_UP = [["0.010 m³", "3 mbar"], ["0.035 m³", "1.5 mbar"]]


@pytest.fixture(scope="module")
def with_table(bundle_text: str) -> Bridge:
    bundle = json.loads(bundle_text)
    dated_value = bundle["tables"][TABLE]["values"][-1]
    dated_value |= {"rows": MADE_UP, "provenance": "published"}
    return Bridge(json.dumps(bundle))


@pytest.mark.parametrize(
    ("volume", "outcome", "limit"),
    [
        ("0.0099 m³", "meets", "3.00"),
        ("0.010 m³", "meets", "3.00"),
        ("0.0101 m³", "does_not_meet", "1.50"),
        ("0.035 m³", "does_not_meet", "1.50"),
    ],
)
def test_the_volume_finds_its_drop(with_table, volume, outcome, limit):
    found = verdict(ask(with_table, installation_volume=volume))
    assert found["outcome"] == outcome
    assert limit in found["limit"]
    assert found["provenance"] == "published"


def test_a_volume_beyond_the_table_is_refused_by_name(with_table):
    refused = ask(with_table, installation_volume="0.05 m³")["refused"]
    assert [one["field"] for one in refused] == ["installation_volume"]


def test_the_table_needs_a_volume(with_table):
    refused = ask(with_table, installation_volume="")["refused"]
    assert [(one["field"], one["kind"]) for one in refused] == [("installation_volume", "missing")]


def test_the_reader_s_own_figure_goes_before_the_table(with_table):
    found = verdict(ask(with_table, installation_volume="0.02 m³", permitted_drop="2.5 mbar"))
    assert (found["outcome"], found["provenance"]) == ("meets", "typed-by-reader")


def test_a_figure_in_place_of_the_table_decides(bridge):
    found = verdict(ask(bridge, overrides={TABLE: "2.5 mbar"}))
    assert (found["outcome"], found["provenance"]) == ("meets", "typed-by-reader")


def test_edition_4_used_early_does_not_borrow_from_edition_3(bridge):
    new = {"pipework": "new", "test_end": "20.4 mbar", "edition": "edition_4"}
    early = verdict(ask(bridge, test_date="2026-05-01", **new))
    assert (early["outcome"], early["provenance"]) == ("not_judged", "not-held")


@pytest.mark.parametrize(("pipe", "provenance"), [("28 mm", "secondary"), ("35 mm", "from-memory")])
def test_a_cell_from_memory_says_so(bridge, pipe, provenance):
    house = {"meter": "diaphragm_u6_g4", "largest_pipe": pipe, "test_end": "19.5 mbar"}
    found = verdict(ask(bridge, test_date="2026-09-01", **house))
    assert (found["outcome"], found["provenance"]) == ("meets", provenance)


def test_a_small_fall_is_judged_by_the_table_rather_than_by_what_can_be_seen(bridge):
    house = {"meter": "diaphragm_u6_g4", "largest_pipe": "22 mm", "test_end": "20.4 mbar"}
    found = verdict(ask(bridge, test_date="2026-09-01", **house))
    assert (found["outcome"], found["limit"]) == ("meets", "at most 4.00\N{NO-BREAK SPACE}mbar")
