"""The names in `data/cross_check/` are all there, and each thing that it may say has words."""

import pytest

from calcs.domain.cross_check.form import NAMES, NOTES, TAKES
from calcs.domain.cross_check.readings import PLATE, PRESSURES, RUNS
from calcs.domain.cross_check.visit import WRITTEN


@pytest.fixture(scope="module")
def data(bridge):
    return bridge.reference.cross_check


def test_every_family_and_every_reading_to_take_has_words(data, bridge):
    families = {one["family"] for one in data["signatures"]["signatures"].values()}
    assert families <= set(NAMES)
    assert set(data["settling"]["takes"]) == set(TAKES)
    assert set(NOTES) <= set(bridge.reference.sayings("cross_check", "notes"))


def test_pairs_name_families_and_readings_that_are_there(data):
    families = {one["family"] for one in data["signatures"]["signatures"].values()}
    settling = data["settling"]
    for pair in [*(one["pair"] for one in settling["pairs"]), *settling["never"]]:
        assert set(pair) <= families
    for one in settling["pairs"]:
        assert set(one["take"]) <= set(settling["takes"])
    for take in settling["takes"].values():
        assert set(take.get("stays", ())) <= families


def test_relations_speak_of_quantities_and_errors_that_are_there(data):
    quantities, errors = data["quantities"], data["errors"]
    relations = {**data["relations"]["parts"], **data["relations"]["relations"]}
    for one in relations.values():
        for names in {**one.get("product", {}), **one.get("sum", {})}:
            assert set(names.split(" or ")) <= {*quantities, *data["relations"]["parts"]}
        assert set(one.get("errors", {})) <= set(errors)
    for one in quantities.values():
        assert set(one.get("of", ())) <= set(quantities)
        assert {*one.get("shares", {}), *([one["rounding"]] if "rounding" in one else [])} <= set(
            errors
        )


def test_signatures_move_errors_that_are_there(data):
    known = {*data["quantities"], *data["errors"]}
    for one in data["signatures"]["signatures"].values():
        assert set(one["errors"]) <= known
        assert ("exact" in one) != ("least" in one and "most" in one)


def test_the_form_fills_quantities_that_are_there(data):
    assert {*RUNS, *PRESSURES, *PLATE, *WRITTEN.values()} <= set(data["quantities"])


@pytest.mark.parametrize(("net", "gross"), [(34.02, 37.78), (88.00, 95.65)], ids=["G20", "G31"])
def test_net_for_gross_is_a_slip_of_either_gas(data, net, gross):
    """Calorific values of EN 437 at 15 °C."""
    known = data["signatures"]["signatures"]
    value, plate = (
        [float(factor) for factor in known[name]["exact"]]
        for name in ("net_for_gross_value", "plate_gross_for_net")
    )
    for share in (net / gross, gross / net):
        assert any(factor == pytest.approx(share, rel=5e-4) for factor in value)
    assert any(factor == pytest.approx(gross / net, rel=5e-4) for factor in plate)
