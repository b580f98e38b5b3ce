"""What holds of two readings of a meter's index, whatever its figures."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcs.domain.gas.meter_index import check_one_run, gas_between
from calcs.engine.errors import Impossible
from calcs.engine.units import Quantity

SETTINGS = settings(max_examples=200, deadline=None, derandomize=True)
UNITS = st.sampled_from(["m**3", "ft**3"])


@SETTINGS
@given(first=st.floats(0, 1e8), second=st.floats(0, 1e8), unit=UNITS)
def test_gas_never_passes_backwards(first, second, unit):
    try:
        passed = gas_between(Quantity(first, unit), Quantity(second, unit))
    except Impossible:
        assert second < first
        return
    assert passed.magnitude >= 0
    # Either the plain difference, or that and one whole index.
    if second < first:
        assert passed.magnitude <= 0.01 * 10 ** len(str(int(first)))


@SETTINGS
@given(
    places=st.integers(2, 7),
    left=st.integers(1, 40),
    after=st.integers(0, 40),
    unit=UNITS,
)
def test_every_length_of_index_turns_from_its_nines(places, left, after, unit):
    # Steps of a ten-thousandth of the whole index, at most 80 of them: less than its hundredth.
    step = 10**places / 10000
    first, second = Quantity(10**places - left * step, unit), Quantity(after * step, unit)
    passed = gas_between(first, second)
    assert passed.magnitude == pytest.approx((left + after) * step, rel=1e-9)


@SETTINGS
@given(index=st.integers(100_001, 999_999), passed=st.integers(1, 500), power=st.integers(2, 4))
def test_a_point_dropped_from_either_reading_is_named(index, passed, power):
    shift = 10.0**power
    first, second = index / 1000, (index + passed) / 1000
    for one, other in ((first * shift, second), (first, second * shift)):
        readings = Quantity(one, "m**3"), Quantity(other, "m**3")
        with pytest.raises(Impossible, match="point_left_out"):
            check_one_run(*readings, gas_between(*readings))
