"""Visits as they might be read, by formulas of this file's own: nothing here comes from `calcs`.

A gas is drawn at random; what its burner does with it, and what each instrument shows of that,
follow.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import Any

from tests.calcs.domain.cross_check.gas_of_day import (
    AIR_OXYGEN,
    LATENT,
    MOLAR_VOLUME,
    TEST,
    GasOfDay,
    drawn_gas,
)


@dataclass
class Visit:
    """What was read, in the units of the trade.

    Args:
        read: By quantity: mbar, m³/h, kW, MJ/m³, °C, percent, l/min.
        spread: Standard uncertainty of each, of the instrument's step and what it does not share.
    """

    burner: str
    gas: str
    read: dict[str, float]
    spread: dict[str, float]
    bore: float
    length: float
    separate_cell: bool


def stepped(value: float, step: float) -> float:
    return round(value / step) * step


def friction(
    flow_m3h: float,
    bore: float,
    length: float,
    density: float,
    viscosity: float,
    stirred: float,
) -> float:
    """Loss in mbar by Haaland's explicit formula, or by 64/Re below 2000.

    From there to 4000 a flow is smooth for one part of the time and turbulent for the other
    (textbooks of flow in pipes): `stirred` is how far it is towards the turbulent law.
    """
    speed = flow_m3h / 3600 / (math.pi * bore * bore / 4)
    reynolds = density * speed * bore / viscosity
    smooth = 64 / reynolds
    rough = (-1.8 * math.log10((1.5e-6 / bore / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    between = smooth + (rough - smooth) * max(stirred, (reynolds - 2000) / 2000)
    factor = smooth if reynolds < 2000 else between if reynolds < 4000 else rough
    return factor * length / bore * density * speed * speed / 2 / 100


@dataclass
class World:
    """Chance, with a spread that may be made wider or heavier in its tails."""

    chance: random.Random
    wider: float = 1.0
    heavy: bool = False

    def normal(self, spread: float) -> float:
        value = self.chance.gauss(0, 1)
        if self.heavy:  # Student's t with four degrees, at the same standard deviation
            value /= math.sqrt(self.chance.gammavariate(2, 0.5)) * math.sqrt(2)
        return value * spread * self.wider

    def even(self, half_width: float) -> float:
        if self.heavy:
            return self.normal(half_width / math.sqrt(3))
        return self.chance.uniform(-half_width, half_width) * self.wider


def visit(
    seed: int, burner: str, gas: str, faults: dict[str, float] | None = None, **world: Any
) -> Visit:
    """One visit. `faults` are what is wrong with the appliance, by name and size."""
    made = _Maker(World(random.Random(seed), **world), burner, gas, faults or {})
    made.plate_figures()
    inputs = made.burner_pressures() if burner == "injectors" else made.by_fan()
    flows = made.timed_runs(inputs)
    bore, length = made.supply(flows[""])
    efficiency = made.flue_gas(inputs[""])
    separate = made.w.chance.random() < 0.4
    if not separate:
        made.work_out_dioxide()
    made.hot_water(inputs[""], efficiency)
    return Visit(burner, gas, made.read, made.spread, bore, length, separate)


class _Maker:
    """What one visit is made of, part by part."""

    def __init__(self, world: World, burner: str, gas: str, wrong: dict[str, float]) -> None:
        self.w, self.chance, self.wrong = world, world.chance, wrong
        self.burner, self.gas = burner, gas
        self.fuel = drawn_gas(self.chance, gas)
        self.read: dict[str, float] = {}
        self.spread: dict[str, float] = {}
        self.plate = self.chance.choice([12.0, 15.0, 18.5, 24.0, 27.0, 30.0, 35.0])
        span = (9, 14) if gas == "natural_gas" else (25, 33)
        self.plate_burner = self.chance.uniform(*span)
        self.least = self.chance.uniform(0.35, 0.5)
        self.zero, self.gain = world.normal(0.05), world.even(0.005)
        self.heat_ratio = self.fuel.wobbe / TEST[gas][0]

    def plate_figures(self) -> None:
        """The data plate. Makers round the ratio, and take a calorific value of their own."""
        w, plate, least = self.w, self.plate, self.least
        _, gross, net = TEST[self.gas]
        self.read |= {
            "plate_input": stepped(plate, 0.1),
            "plate_input_gross": stepped(plate * gross / net * (1 + w.normal(0.0015)), 0.1),
            "plate_gas_rate": stepped(plate * 3.6 / net * (1 + w.normal(0.004)), 0.01),
            "plate_input_min": stepped(plate * least * (1 + w.normal(0.03)), 0.1),
            "plate_burner_max": stepped(self.plate_burner, 0.1),
            "plate_burner_min": stepped(self.plate_burner * least**2, 0.1),
            "calorific_value": stepped(self.fuel.gross * (1 + w.normal(0.004)), 0.1),
        }

    def gauge(self, pressure: float, name: str) -> None:
        """What the gauge of the visit shows."""
        off = self.zero + self.wrong.get("gauge_zero", 0.0)
        self.read[name] = stepped(pressure * (1 + self.gain) + off, 0.1)
        self.spread[name] = 0.1 / math.sqrt(12)

    def burner_pressures(self) -> dict[str, float]:
        """Heat input at each burner pressure, in kW; the pressures are read."""
        w, chance, full = self.w, self.chance, self.plate_burner
        case = w.normal(0.08)
        injectors = (1 + w.normal(0.013)) * (1 + self.wrong.get("injector", 0.0))
        pressures = {
            "": full * chance.uniform(0.75, 1.06),
            "_other": full * chance.uniform(0.45, 0.8),
            "_min": full * self.least**2 * chance.uniform(0.9, 1.15),
        }
        for name, pressure in pressures.items():
            self.gauge(pressure + case, f"burner{name or '_max'}")
        inputs = {
            name: self.plate * math.sqrt(pressure / full) * self.heat_ratio * injectors
            for name, pressure in pressures.items()
        }
        return {**inputs, "_min": inputs["_min"] * (1 + w.normal(0.02))}

    def by_fan(self) -> dict[str, float]:
        """Heat input of a premix appliance at its highest fan speed."""
        flow = (1 + self.w.normal(0.033)) * (1 + self.wrong.get("premix_flow", 0.0))
        return {"": self.plate * self.heat_ratio * flow}

    def timed_runs(self, inputs: dict[str, float]) -> dict[str, float]:
        """Flow at the meter of each run, in m³/h: gas as warm and as high up as it is."""
        w, chance = self.w, self.chance
        kelvin, height = chance.uniform(278, 293), chance.uniform(0, 200)
        metered = 288.15 / kelvin * (1033.25 - 0.12 * height) / 1013.25
        flows = {name: heat * 3.6 / self.fuel.net / metered for name, heat in inputs.items()}
        flows["_again"] = flows[""] * (1 + w.normal(0.003))
        meter, added = 1 + w.even(0.02), 1 + self.wrong.get("another_appliance", 0.0)
        for name, flow in flows.items():
            shown = flow * meter * (added if name in ("", "_again") else 1.0)
            passed = shown * ((240 if name == "_min" else 150) + chance.uniform(-20, 20)) / 3600
            start = chance.random()  # the index shows whole litres at both ends
            volume = max(stepped(start + passed, 0.001) - stepped(start, 0.001), 0.001)
            elapsed = stepped(passed / shown * 3600 + w.even(0.25), 0.1)
            self._rate(f"gas_rate{name}", volume, elapsed)
        return {**flows, "": flows[""] * added}

    def _rate(self, name: str, volume: float, elapsed: float) -> None:
        self.read[name] = volume / elapsed * 3600
        steps = (0.001 / math.sqrt(6) / volume) ** 2 + (0.5 / math.sqrt(12) / elapsed) ** 2
        self.spread[name] = self.read[name] * math.sqrt(steps)

    def supply(self, flow: float) -> tuple[float, float]:
        """Bore and length of the run; the pressures at both ends are read."""
        w, chance, natural = self.w, self.chance, self.gas == "natural_gas"
        bore = 0.0202 if self.plate > 20 or natural else 0.0136
        length = chance.uniform(6, 22)
        viscosity = 1.09e-5 if natural else 7.9e-6
        lost = friction(flow, bore, length, self.fuel.density, viscosity, chance.random())
        lost *= (1 + w.normal(0.09)) * (1 + self.wrong.get("restricted_run", 0.0))
        at_meter = chance.uniform(19.5, 21.5) if natural else chance.uniform(35, 38)
        self.gauge(at_meter, "meter_working")
        self.gauge(at_meter - lost + w.normal(0.05), "inlet_working")
        standing = at_meter + chance.uniform(1, 3)
        self.gauge(standing, "meter_standing")
        # The gas is shut in: between the two readings it warms or cools by a few hundredths.
        drift = 1035 * w.normal(0.03) / 288
        self.gauge(standing + drift, "inlet_standing")
        self.gauge(0.0, "gauge_open")
        return bore, length

    def flue_gas(self, heat: float) -> float:
        """True net efficiency; the sample is read, thinned by air where it leaks."""
        w, chance, fuel = self.w, self.chance, self.fuel
        flue = chance.uniform(95, 165) if self.burner == "injectors" else chance.uniform(42, 75)
        air_ratio = fuel.air_ratio(self._dioxide(heat))
        oxygen, dioxide = fuel.sample(air_ratio)
        air = chance.uniform(5, 22)
        thinned = self.wrong.get("diluted_sample", 0.0)  # parts of air to one of sample
        oxygen, dioxide, warm = (
            (value + thinned * fresh) / (1 + thinned)
            for value, fresh in ((oxygen, 100 * AIR_OXYGEN), (dioxide, 0.0), (flue, air))
        )
        self.read |= {
            "oxygen": stepped(oxygen + w.even(0.3), 0.1),
            "carbon_dioxide": stepped(dioxide + w.even(0.3), 0.1),
            "flue_temperature": stepped(warm + w.even(2), 1),
            "air_temperature": stepped(air + w.even(2), 1),
        }
        self._shown_efficiency()
        cell, probe = math.sqrt(0.3**2 / 3 + 0.1**2 / 12), math.sqrt(2**2 / 3 + 1 / 12)
        self.spread |= {"oxygen": cell, "carbon_dioxide": cell, "efficiency_shown": 0.03}
        self.spread |= {"flue_temperature": probe, "air_temperature": probe}
        return _efficiency(fuel, air_ratio, flue, air)

    def _dioxide(self, heat: float) -> float:
        """Carbon dioxide as it leaves, in percent; what it should be goes on the plate."""
        w, most = self.w, 100 * self.fuel.carbon / self.fuel.dry
        if self.burner == "injectors":
            set_at = self.chance.uniform(0.5, 0.68) * most
            made = heat / self.plate * (1 + w.normal(0.045)) * (1 + self.wrong.get("air", 0.0))
        else:
            set_at = self.chance.uniform(0.74, 0.8) * most
            made = self.heat_ratio * (1 + w.normal(0.022)) * (1 + self.wrong.get("ratio", 0.0))
        self.read["plate_dioxide"] = stepped(set_at, 0.1)
        return min(set_at * made, 0.97 * most)

    def _shown_efficiency(self) -> None:
        """By the rule of analysers, whose makers differ in the oxygen of air."""
        a2, b = (0.66, 0.009) if self.gas == "natural_gas" else (0.63, 0.008)
        rise = self.read["flue_temperature"] - self.read["air_temperature"]
        of_air = self.chance.choice([20.9, 20.95, 21.0])
        shown = 100 - rise * (a2 / (of_air - self.read["oxygen"]) + b) + self.w.normal(0.25)
        self.read["efficiency_shown"] = stepped(shown, 0.1)

    def work_out_dioxide(self) -> None:
        """Carbon dioxide of an analyser without a cell for it; makers differ in the greatest."""
        most = (11.8 if self.gas == "natural_gas" else 13.8) + self.w.even(0.1)
        self.read["carbon_dioxide"] = stepped(most * (1 - self.read["oxygen"] / 20.9), 0.1)

    def hot_water(self, heat: float, efficiency: float) -> None:
        """A timed vessel at the tap."""
        w, chance = self.w, self.chance
        given = heat * efficiency * (1 - chance.uniform(0.0, 0.02)) * (1 + w.normal(0.02))
        given *= 1 + self.wrong.get("settling", 0.0)
        cold, rise = chance.uniform(6, 16), chance.uniform(28, 42)
        flow = given / (rise * 4.18 * 0.993) * 60
        litres = stepped(flow * chance.uniform(0.5, 0.8), 0.1)
        shown = stepped(litres * (1 + w.even(0.02)), 0.1)
        elapsed = stepped(litres / flow * 60 + w.even(0.25), 0.1)
        self.read["water_flow"] = shown / elapsed * 60
        steps = (0.1 / math.sqrt(12) / shown) ** 2 + (0.5 / math.sqrt(12) / elapsed) ** 2
        self.spread["water_flow"] = self.read["water_flow"] * math.sqrt(0.02**2 / 3 + steps)
        self.read["cold"], self.read["hot"] = (
            stepped(warmth + w.even(1), 0.1) for warmth in (cold, cold + rise)
        )
        self.spread["cold"] = self.spread["hot"] = math.sqrt(1 / 3 + 0.01 / 12)


def _efficiency(fuel: GasOfDay, air_ratio: float, flue: float, air: float) -> float:
    """Net, by mean heat capacities in kJ/(mol K), and Magnus' formula for what condenses."""
    dry = fuel.dry + (air_ratio - 1) * fuel.oxygen_need / AIR_OXYGEN
    heat_of_dry = fuel.carbon * 0.039 + (dry - fuel.carbon) * 0.0296
    carried = (flue - air) * (heat_of_dry + fuel.water * 0.0340)
    vapour = 6.112 * math.exp(17.62 * flue / (243.12 + flue))
    held = dry * vapour / (1013.25 - vapour) if vapour < 1000 else fuel.water
    condensed = max(0.0, fuel.water - held)
    return 1 - (carried - condensed * LATENT) / (fuel.net * MOLAR_VOLUME * 1000)
