"""How often the room is right: the figures that are asked of it, over many generated visits."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from random import Random  # seeds of a study, no secret
from typing import Any

from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.chance import tail_of_chi_square
from calcs.domain.cross_check.examine import LEVEL, SURE, Examined, examine
from calcs.domain.cross_check.ranking import NOTHING
from calcs.engine.in_force import InForce
from tests.calcs.domain.cross_check.generator import Visit, visit
from tests.calcs.domain.cross_check.trial import TEMPERATURES, case, share, thinned

KINDS = [(burner, gas) for burner in ("injectors", "premix") for gas in ("natural_gas", "propane")]
ALIKE = 0.95  # two explanations that look alike to within this are equally good answers
# Faults of the generator: family that is right, mild sizes and strong ones.
FAULTS: dict[str, tuple[str, str, tuple[float, float], tuple[float, float]]] = {
    "injector": ("injectors", "injector", (-0.12, -0.07), (-0.3, -0.16)),
    "restricted_run": ("", "restricted_run", (0.6, 1.0), (1.5, 4.0)),
    "diluted_sample": ("", "diluted_sample", (0.2, 0.3), (0.4, 0.7)),
    "another_appliance": ("injectors", "another_appliance", (0.08, 0.14), (0.2, 0.6)),
    "ratio": ("premix", "gas_air_ratio", (0.08, 0.12), (0.14, 0.2)),
    "premix_flow": ("premix", "not_at_full_rate", (-0.16, -0.11), (-0.5, -0.22)),
    "settling": ("", "hot_water", (-0.16, -0.11), (-0.4, -0.2)),
    "gauge_zero": ("injectors", "gauge_zero", (0.25, 0.4), (0.6, 1.5)),
}


def sound(count: int, ref: InForce, **world: Any) -> dict[str, float]:
    """Figures of visits in which nothing is wrong."""
    alarms, wrong, ratios = [], [], []
    for burner, gas in KINDS:
        for seed in range(count // len(KINDS)):
            made = case(thinned(visit(seed, burner, gas, **world), seed), ref)
            found = examine(made)
            alarms.append(found.chance < LEVEL)
            wrong.append(bool(_confident(found)))
            if made.balance.degrees:
                ratios.append(made.balance.chi_square / made.balance.degrees)
    return {
        "false alarms": share(alarms),
        "mean of chi-square over degrees": math.fsum(ratios) / len(ratios),
        "called wrong with confidence": share(wrong),
    }


def _confident(found: Examined) -> str:
    """The family that it is sure of; empty for none."""
    top = found.families[0] if found.families else None
    return top.name if top and top.name != NOTHING and top.share > SURE else ""


def declared(count: int, ref: InForce, seed: int = 0) -> float:
    """Share of visits drawn from the declared model itself that the test calls misfits."""
    chance = Random(seed)
    cases = [case(thinned(visit(one, *KINDS[one % 4]), one), ref) for one in range(60)]
    alarms = []
    for each in range(count):
        balance = cases[each % len(cases)].balance
        if not balance.degrees:
            continue
        errors = {name: chance.gauss(0, u) for name, u in balance.uncertainties.items() if u}
        white = balance.whitened(balance.shift(errors))
        square = math.fsum(value * value for value in white)
        alarms.append(tail_of_chi_square(square, balance.degrees) < LEVEL)
    return share(alarms)


def power(count: int, at: float, ref: InForce, seed: int = 1) -> float:
    """Share of wrong readings of one detectability that the test sees, drawn from the model."""
    chance = Random(seed)
    cases = [case(thinned(visit(one, *KINDS[one % 4]), one), ref) for one in range(60)]
    seen = []
    for each in range(count):
        made = cases[each % len(cases)]
        balance = made.balance
        tried = [one for one in made.signatures if balance.detectability(one.errors) > 0]
        if not tried:
            continue
        one = chance.choice(tried)
        size = at / balance.detectability(one.errors)
        errors = {name: chance.gauss(0, u) for name, u in balance.uncertainties.items() if u}
        for name, times in one.errors.items():
            errors[name] = errors.get(name, 0.0) + times * size
        white = balance.whitened(balance.shift(errors))
        square = math.fsum(value * value for value in white)
        seen.append(tail_of_chi_square(square, balance.degrees) < LEVEL)
    return share(seen)


def misread(made: Visit, name: str, size: float) -> Visit:
    """A visit with one reading that was taken wrongly: a share of it, or in its own unit."""
    made.read[name] = (
        made.read[name] * math.exp(size) if _by_share(name) else made.read[name] + size
    )
    return made


def _by_share(name: str) -> bool:
    return name.startswith(("gas_rate", "burner", "plate", "water_flow"))


READINGS = {
    "gas_rate": "gas_timing", "gas_rate_again": "gas_timing_again",
    "gas_rate_other": "second_run", "burner_other": "second_run",
    "gas_rate_min": "minimum_run", "burner_min": "minimum_run", "burner_max": "burner_max",
    "meter_working": "working_pressures", "inlet_working": "working_pressures",
    "meter_standing": "standing_pressures", "inlet_standing": "standing_pressures",
    "water_flow": "hot_water", "hot": "hot_water", "cold": "hot_water",
    "oxygen": "flue_sample", "carbon_dioxide": "flue_sample",
    "flue_temperature": "efficiency_readings", "efficiency_shown": "efficiency_readings",
    "plate_input": "plate_input", "plate_input_gross": "plate_input_gross",
    "plate_gas_rate": "plate_gas_rate", "plate_burner_max": "plate_burner_max",
    "plate_burner_min": "plate_minimum", "plate_input_min": "plate_minimum",
    "plate_dioxide": "plate_dioxide",
}  # fmt: skip


def wrong_readings(
    count: int, least: float, most: float, ref: InForce, seed: int = 2
) -> Iterator[tuple[Case, str, float]]:
    """Visits with one reading wrong, of a detectability between two: case, family, that."""
    chance = Random(seed)
    made = 0
    for number in range(20 * count):
        if made == count:
            return
        burner, gas = KINDS[number % 4]
        read = thinned(visit(number + 50_000, burner, gas), number)
        name = chance.choice([one for one in READINGS if one in read.read])
        made_case = case(read, ref)
        errors = _errors_of(name, made_case)
        unit = made_case.balance.detectability(errors)
        size = chance.uniform(least, most) / unit if unit else 0.0
        if not size or size > _largest(name):
            continue
        size *= chance.choice((-1, 1))
        wrong = misread(
            read, name, size * (100 if _percent(name) else 0.01 if _pascal(name) else 1)
        )
        if wrong.read[name] <= 0 and name not in TEMPERATURES:
            continue
        made += 1
        yield case(wrong, ref), READINGS[name], abs(size) * unit


def _percent(name: str) -> bool:
    return name in ("oxygen", "carbon_dioxide", "efficiency_shown")


def _pascal(name: str) -> bool:
    return name.startswith(("meter_", "inlet_", "gauge"))


def _largest(name: str) -> float:
    """What anybody would still write down: half as much again, six mbar, fifteen kelvin."""
    if _by_share(name):
        return 0.9 if "min" in name else 0.5
    if _pascal(name):
        return 600.0
    if _percent(name):
        return 0.05
    return 80.0 if name == "flue_temperature" else 15.0


def _errors_of(name: str, made: Case) -> Mapping[str, float]:
    copies = {"oxygen": "oxygen_as_written", "flue_temperature": "flue_as_written"}
    if name == "carbon_dioxide" and name not in made.sheet.read:
        return {"dioxide_worked_out": 1.0}
    return {name: 1.0, **({copies[name]: 1.0} if name in copies else {})}


def faulty(
    count: int, *, strong: bool, ref: InForce, seed: int = 3, **world: Any
) -> Iterator[tuple[Case, str]]:
    """Visits with one fault of the appliance: case and family."""
    chance = Random(seed)
    for number in range(count):
        burner, gas = KINDS[number % 4]
        name = chance.choice([one for one, (only, *_) in FAULTS.items() if only in ("", burner)])
        _, family, mild, hard = FAULTS[name]
        size = chance.uniform(*(hard if strong else mild))
        if name in ("ratio", "gauge_zero"):
            size *= chance.choice((-1, 1))
        read = visit(number + 90_000, burner, gas, {name: size}, **world)
        yield case(thinned(read, number), ref), family


def judged(
    cases: Iterator[Any], only: Callable[[Case, str], bool] = lambda *_: True
) -> dict[str, float]:
    """Of those that were flagged: how often the right family is first, among two, in the set."""
    first, two, alike, held, sizes, confident, flagged = [], [], [], [], [], [], []
    plainly = []
    for made, family, *_ in cases:
        if not only(made, family):
            continue
        found = examine(made)
        flagged.append(bool(found.families))
        confident.append(_confident(found) not in ("", family))
        if not found.families:
            continue
        names = [one.name for one in found.ranking]
        first.append(names[0] == family)
        plainly.append(_largest_residual(made) == family)
        two.append(family in names[:2])
        alike.append(names[0] == family or _alike(made, found, family))
        held.append(family in [one.name for one in found.held])
        sizes.append(len(found.held))
    return {
        "flagged": share(flagged), "first": share(first), "in two": share(two),
        "among equally good": share(alike), "in the set": share(held),
        "size of the set": math.fsum(sizes) / len(sizes) if sizes else float("nan"),
        "confident and wrong": share(confident), "first by the largest residual": share(plainly),
    }  # fmt: skip


def _largest_residual(made: Case) -> str:
    """The family that the largest adjusted residual alone names: the plain way to do it."""
    seen = [one for one in made.signatures if made.balance.detectability(one.errors) > 0]
    return max(seen, key=lambda one: abs(made.balance.deviation(one.errors))).family


def _alike(made: Case, found: Examined, family: str) -> bool:
    """Whether what is first looks just like what is right."""
    top = found.ranking[0].best
    mine = [one for one in made.signatures if one.family == family]
    return top is not None and any(
        made.balance.confounding(top.signature.errors, one.errors) > ALIKE for one in mine
    )


def two_wrong(count: int, ref: InForce, seed: int = 4) -> float:
    """Share of visits with two readings wrong, neither hidden, in which both are found."""
    chance = Random(seed)
    found = []
    for number in range(20 * count):
        if len(found) == count:
            break
        burner, gas = KINDS[number % 4]
        read = thinned(visit(number + 130_000, burner, gas), number, keep=0.85)
        here = case(read, ref)
        # A size is drawn once: another draw may be none that anybody would write down, which is 0.
        sizes = {one: _size(one, here, chance) for one in READINGS if one in read.read}
        able = [one for one, size in sizes.items() if size]
        pair = chance.sample(able, 2) if len(able) > 1 else []
        errors = [_errors_of(one, here) for one in pair]
        if len({READINGS[one] for one in pair}) < 2 or here.balance.confounding(*errors) > 0.7:
            continue
        before = dict(read.read)
        for name in pair:
            misread(read, name, sizes[name])
        assert all(read.read[name] != before[name] for name in pair)
        if any(read.read[name] <= 0 for name in pair if name not in TEMPERATURES):
            continue
        made = case(read, ref)
        told = examine(made)
        named = [one.best.signature.errors for one in (told.first, told.second) if one and one.best]
        alike = [
            [made.balance.confounding(one, other) > ALIKE for one in named] for other in errors
        ]
        found.append(all(map(any, alike)))
    return share(found)


def _size(name: str, made: Case, chance: Random) -> float:
    """A size of a wrong reading that shows, in the units of the generator; 0 where none would."""
    unit = made.balance.detectability(_errors_of(name, made))
    size = chance.uniform(7, 15) / unit if unit else 0.0
    if not size or size > _largest(name):
        return 0.0
    scale = 100 if _percent(name) else 0.01 if _pascal(name) else 1
    return size * chance.choice((-1, 1)) * scale
