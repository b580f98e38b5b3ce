"""The mathematics against books and libraries: reconciled, tested and estimated."""

import math
from itertools import pairwise, product

import numpy as np
import pytest
import scipy  # its parts are slow to import: each comes when it is first asked for

from calcs.domain.cross_check.balance import Balance, Condition
from calcs.domain.cross_check.chance import log_between, log_of_sum, tail_of_chi_square
from calcs.domain.cross_check.cholesky import backward, forward, lower_of
from calcs.domain.cross_check.signature import BANDS, Signature, fit
from tests.every_case import every_case

# A heat exchanger with a bypass, as in a textbook on data reconciliation and gross error detection
# (Narasimhan and Jordache), from memory: nodes 1 = 2 + 3, 2 = 4, 3 = 5, 4 + 5 = 6, unit variances.
NODES = [{1: 1, 2: -1, 3: -1}, {2: 1, 4: -1}, {3: 1, 5: -1}, {4: 1, 5: 1, 6: -1}]
MEASURED = {1: 101.91, 2: 64.45, 3: 34.65, 4: 64.20, 5: 36.44, 6: 98.88}


def exchanger(measured: dict[int, float]) -> Balance:
    conditions = [
        Condition(
            str(place),
            math.fsum(sign * measured[stream] for stream, sign in node.items()),
            {str(stream): float(sign) for stream, sign in node.items()},
        )
        for place, node in enumerate(NODES)
    ]
    return Balance(conditions, {str(stream): 1.0 for stream in measured})


def test_streams_of_the_heat_exchanger_reconcile_as_in_the_book():
    balance = exchanger(MEASURED)
    found = [value - balance.estimate(str(stream))[0] for stream, value in MEASURED.items()]
    assert found == pytest.approx([100.22, 64.50, 35.72, 64.50, 35.72, 100.22], abs=0.006)


def test_a_gross_error_is_found_by_the_global_nodal_and_measurement_tests():
    balance = exchanger({**MEASURED, 2: 68.45})
    assert balance.chi_square == pytest.approx(16.674, abs=5e-4)
    assert balance.chi_square > scipy.stats.chi2.isf(0.05, 4) == pytest.approx(9.488, abs=5e-4)
    nodal = [
        abs(one.misfit) / math.sqrt(math.fsum(slope * slope for slope in one.slopes.values()))
        for one in balance.conditions
    ]
    assert nodal == pytest.approx([0.687, 3.005, 1.266, 1.016], abs=6e-4)
    deviations = {name: abs(balance.deviation({name: 1.0})) for name in "123456"}
    assert max(deviations, key=deviations.__getitem__) == "2"
    assert deviations["2"] == pytest.approx(3.205, abs=6e-4)


# JCGM 100:2008, H.2: five simultaneous readings, table H.2.
VOLTS = [5.007, 4.994, 5.005, 4.990, 4.999]
AMPERES = [0.019663, 0.019639, 0.019640, 0.019685, 0.019678]
RADIANS = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]


def test_resistance_and_reactance_of_the_guide():
    read = np.array([VOLTS, AMPERES, RADIANS])
    volts, amperes, angle = read.mean(axis=1)
    shared = np.linalg.cholesky(np.cov(read) / 5)  # correlated readings as errors that they share
    impedance = volts / amperes
    sought = {
        "R": (127.732, 0.071, lambda v, i, a: v / i * math.cos(a)),
        "X": (219.847, 0.295, lambda v, i, a: v / i * math.sin(a)),
        "Z": (254.260, 0.236, lambda v, i, _: v / i),
    }
    for name, (value, uncertainty, of) in sought.items():
        slopes = scipy.optimize.approx_fprime(
            [volts, amperes, angle], lambda x, of=of: of(*x), 1e-8
        )
        along = {str(place): -float(slopes @ shared[:, place]) for place in range(3)}
        guess = round(impedance)
        condition = Condition(name, guess - of(volts, amperes, angle), {"it": 1.0, **along})
        balance = Balance([condition], {"it": 1e5, "0": 1.0, "1": 1.0, "2": 1.0})
        error, left = balance.estimate("it")
        assert guess - error == pytest.approx(value, abs=6e-4)
        assert left == pytest.approx(uncertainty, abs=6e-4)


# NIST StRD, linear regression, Norris; data and certified values from memory.
NORRIS = """0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3
449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5
10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8
339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1
449.2 448.9 0.2 0.5"""


def test_norris_straight_line_as_certified():
    numbers = [float(word) for word in NORRIS.split()]
    pairs = list(zip(numbers[0::2], numbers[1::2], strict=True))
    conditions = [
        Condition(str(place), y - x, {"slope": -x, "start": -1.0, str(place): 1.0})
        for place, (y, x) in reversed(list(enumerate(pairs)))
    ]
    spread = {str(place): 1.0 for place in range(len(pairs))}
    # A slope near one and a start near nought, known so loosely that they pull at nothing.
    balance = Balance(conditions, {"slope": 1.0, "start": 1e3, **spread})
    slope, start = (-balance.estimate(name)[0] for name in ("slope", "start"))
    assert 1 + slope == pytest.approx(1.00211681802045, abs=1e-9)
    assert start == pytest.approx(-0.262323073774029, abs=5e-7)
    left, degrees = balance.freed([{"slope": 1.0}, {"start": 1.0}])
    assert degrees == 34
    assert math.sqrt(left / degrees) == pytest.approx(0.884796396144373, rel=1e-7)


@pytest.mark.parametrize("seed", range(5))
def test_scipy_least_squares_agrees(seed):
    chance = np.random.default_rng(seed)
    slopes = chance.normal(size=(4, 7))
    spread, misfit = np.exp(chance.normal(size=7)), chance.normal(size=4)
    names = [f"e{place}" for place in range(7)]
    balance = Balance(
        [
            Condition(str(place), float(misfit[place]), dict(zip(names, row, strict=True)))
            for place, row in enumerate(slopes.tolist())
        ],
        dict(zip(names, spread.tolist(), strict=True)),
    )
    # The least of Σ (e/σ)² where B e = b: that of the null space of B added to any one solution.
    start = np.linalg.lstsq(slopes, misfit, rcond=None)[0]
    free = np.linalg.svd(slopes)[2][4:].T
    solved = scipy.optimize.least_squares(lambda z: (start + free @ z) / spread, np.zeros(3))
    assert balance.chi_square == pytest.approx(2 * solved.cost, rel=1e-9)
    errors = start + free @ solved.x
    assert [balance.estimate(name)[0] for name in names] == pytest.approx(errors, rel=1e-6)


@every_case(
    ("degrees", "value"),
    product([1, 2, 3, 4, 7, 12, 17, 40], [0.01, 0.5, 3.0, 11.07, 40.0, 300.0]),
)
def test_tail_of_chi_square_by_scipy(degrees, value):
    expected = scipy.special.gammaincc(degrees / 2, value / 2)
    assert tail_of_chi_square(value, degrees) == pytest.approx(expected, rel=1e-11, abs=1e-300)


@pytest.mark.parametrize(
    ("low", "high"), [(-1, 2), (3, 4), (5.9, 6.1), (8, 9), (-40, -39), (30, 99)]
)
def test_shares_of_a_bell_curve_by_scipy(low, high):
    low, high = (low, high) if low > 0 else (-high, -low)
    near, beyond = (scipy.stats.norm.logsf(point) for point in (low, high))
    expected = near + math.log1p(-math.exp(beyond - near))
    assert log_between(low, high) == pytest.approx(expected, rel=2e-6)
    assert log_of_sum([low, high]) == pytest.approx(scipy.special.logsumexp([low, high]), rel=1e-12)


def test_cholesky_by_numpy_and_conditions_that_say_the_same():
    matrix = np.cov(np.random.default_rng(1).normal(size=(5, 40)))
    lower = lower_of(matrix.tolist())
    assert [row[-1] for row in lower] == pytest.approx(np.diag(np.linalg.cholesky(matrix)))
    right = [1.0, 2.0, 3.0, 4.0, 5.0]
    solved = backward(lower, forward(lower, right))
    assert solved == pytest.approx(np.linalg.solve(matrix, right))
    with pytest.raises(ValueError, match="not independent"):
        lower_of([[1.0, 1.0], [1.0, 1.0]])


def test_detectability_and_confounding_in_closed_form():
    balance = exchanger(MEASURED)
    # Streams 2 and 4 stand in node 2 together and in one other node each, in series.
    between = balance.confounding({"2": 1.0}, {"4": 1.0})
    slopes = np.array([[node.get(s, 0) for s in range(1, 7)] for node in NODES], dtype=float)
    m = slopes.T @ np.linalg.inv(slopes @ slopes.T) @ slopes
    assert balance.detectability({"2": 1.0}) == pytest.approx(math.sqrt(m[1, 1]))
    assert between == pytest.approx(abs(m[1, 3]) / math.sqrt(m[1, 1] * m[3, 3]))
    left, degrees = balance.freed([{"2": 1.0}, {"2": 2.0}, {"unheard": 1.0}])
    deviation = balance.deviation({"2": 1.0})
    assert degrees == 3
    assert left == pytest.approx(balance.chi_square - deviation * deviation)


def test_what_is_left_out_is_as_an_error_of_any_size():
    """Beside a stream that is so uncertain that nothing holds it, χ² is that of the rest."""
    balance = exchanger(MEASURED)
    errors = {"2": 1.0}
    aside = balance.without(errors, balance.misfit)
    assert aside.chi_square == pytest.approx(balance.freed([errors])[0])
    assert aside.white_of({"2": 3.0}) == [0.0] * len(NODES)
    slopes = np.array([[node.get(s, 0) for s in range(1, 7)] for node in NODES], dtype=float)
    wide = np.diag([1.0, 1e8, 1.0, 1.0, 1.0, 1.0])
    m = slopes.T @ np.linalg.inv(slopes @ wide @ slopes.T) @ slopes
    left, right = (np.array(aside.white_of({name: 1.0})) for name in "45")
    assert left @ right == pytest.approx(m[3, 4], rel=1e-6)
    assert left @ np.array(aside.white) == pytest.approx(m[3] @ list(MEASURED.values()), rel=1e-6)


@pytest.mark.parametrize("off", [-30.0, -2.0, 0.0, 5.0, 40.0, 400.0])
def test_evidence_is_the_likelihood_averaged_over_sizes_as_numpy_adds_it_up(off):
    """Over bands of equal weight whose bounds grow by one ratio, of either sign; by a fine grid."""
    balance = exchanger({**MEASURED, 2: MEASURED[2] + off})
    found = fit(
        balance, Signature("2", "2", {"2": 1.0}, 1.0, 60.0, both_ways=True), lambda *_: None
    )
    white = np.array(balance.white_of({"2": 1.0}))
    ends, means = np.geomspace(1.0, 60.0, BANDS + 1), []
    for low, high in [*pairwise(ends), *pairwise(-ends[::-1])]:
        edges = np.linspace(low, high, 20_001)
        sizes = (edges[1:] + edges[:-1]) / 2
        gain = sizes * (white @ balance.white) - sizes * sizes * (white @ white) / 2
        means.append(scipy.special.logsumexp(gain) - math.log(len(sizes)))
    assert found is not None
    assert found.evidence == pytest.approx(
        scipy.special.logsumexp(means) - math.log(len(means)), rel=1e-6, abs=1e-6
    )
