"""A gas drawn at random, worked out from its molecules: nothing here comes from `calcs`.

Heats of combustion at 15 °C and molar masses as in ISO 6976, from memory.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import Any

# By component: gross heat in kJ/mol, molar mass in g/mol, atoms of carbon and hydrogen.
MOLECULES = {
    "methane": (891.5, 16.04, 1, 4),
    "ethane": (1562.1, 30.07, 2, 6),
    "propane": (2221.1, 44.10, 3, 8),
    "propene": (2061.6, 42.08, 3, 6),
    "butane": (2879.8, 58.12, 4, 10),
    "nitrogen": (0.0, 28.01, 0, 0),
    "carbon_dioxide": (0.0, 44.01, 1, 0),
}
LATENT = 44.4  # kJ/mol of water at 15 °C
MOLAR_VOLUME = 0.023645  # m³/mol at 15 °C and 1013.25 mbar
AIR_MASS, AIR_OXYGEN = 28.96, 0.2095
COMPRESSED = {"natural_gas": 0.9977, "propane": 0.982}
TEST = {"natural_gas": (50.72, 37.78, 34.02), "propane": (76.84, 95.65, 88.00)}


@dataclass
class GasOfDay:
    """What a mixture is worth: MJ/m³ at 15 °C, and its flue gas for each mole."""

    gross: float
    net: float
    wobbe: float
    density: float
    carbon: float
    water: float
    oxygen_need: float
    nitrogen: float

    @property
    def dry(self) -> float:
        return self.carbon + self.nitrogen + self.oxygen_need * (1 - AIR_OXYGEN) / AIR_OXYGEN

    def sample(self, air_ratio: float) -> tuple[float, float]:
        """Oxygen and carbon dioxide in percent of the dry flue gas."""
        spare = (air_ratio - 1) * self.oxygen_need / AIR_OXYGEN
        whole = self.dry + spare
        return 100 * AIR_OXYGEN * spare / whole, 100 * self.carbon / whole

    def air_ratio(self, dioxide: float) -> float:
        return 1 + (self.carbon * 100 / dioxide - self.dry) * AIR_OXYGEN / self.oxygen_need


def gas_of(shares: dict[str, float], kind: str) -> GasOfDay:
    total = math.fsum(shares.values())
    part = {name: share / total for name, share in shares.items()}

    def mean(of: Any) -> float:
        return math.fsum(share * of(*MOLECULES[name]) for name, share in part.items())

    volume = MOLAR_VOLUME * COMPRESSED[kind]
    gross = mean(lambda heat, *_: heat) / 1000 / volume
    water = mean(lambda _h, _m, _c, hydrogen: hydrogen / 2)
    net = gross - water * LATENT / 1000 / volume
    mass = mean(lambda _h, molar, *_: molar)
    relative = mass / AIR_MASS * 0.9996 / COMPRESSED[kind]
    burns = {name for name in part if MOLECULES[name][0] > 0}
    oxygen = math.fsum(part[name] * (MOLECULES[name][2] + MOLECULES[name][3] / 4) for name in burns)
    return GasOfDay(
        gross, net, gross / math.sqrt(relative), mass / 1000 / volume,
        mean(lambda _h, _m, carbon, _y: carbon), water, oxygen, part.get("nitrogen", 0.0),
    )  # fmt: skip


def drawn_gas(chance: random.Random, kind: str) -> GasOfDay:
    while True:
        if kind == "propane":
            shares = {
                "propane": 94.0,
                "propene": chance.uniform(0, 4),
                "ethane": chance.uniform(0, 2),
                "butane": chance.uniform(0, 4),
            }
            return gas_of(shares, kind)
        ethane = chance.uniform(2, 6.5)
        shares = {
            "ethane": ethane,
            "propane": chance.uniform(0.2, 0.3 + 0.25 * ethane),
            "butane": chance.uniform(0, 0.4),
            "nitrogen": chance.uniform(0.4, 4),
            "carbon_dioxide": chance.uniform(0.1, 2),
        }
        shares["methane"] = 100 - math.fsum(shares.values())
        gas = gas_of(shares, kind)
        if 47.2 <= gas.wobbe <= 51.41:  # limits of the network
            return gas
