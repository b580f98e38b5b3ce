"""What pint says of units, remembered: each pair of units is looked into once.

pint finds the unit and the factor of every operation anew, which was most of what an answer cost.
Units here are pint's own containers, as a quantity holds them (`_units`; pint is pinned). A scale
with an offset (°C) and its differences are left to pint at every operation (None): there the unit
alone does not say what is meant.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any, TypeAlias

from calcs.engine.units import Quantity, one_of_a_kind, ureg

Units: TypeAlias = Any  # pint.util.UnitsContainer

NO_UNIT: Units = Quantity(1.0, "")._units
_FREEZING = 273.15  # kelvin at 0 °C, by definition of the unit (SI Brochure, 2.3.1)


@lru_cache(maxsize=1024)
def is_plain(units: Units) -> bool:
    """Whether a number in these units is a multiple of the unit and no difference of a scale."""
    one = Quantity(1.0, units)
    return bool(one._is_multiplicative and not one._get_delta_units())


@lru_cache(maxsize=4096)
def product(left: Units, right: Units) -> Units | None:
    """Units of a product."""
    return one_of_a_kind(left * right) if is_plain(left) and is_plain(right) else None


@lru_cache(maxsize=4096)
def quotient(left: Units, right: Units) -> Units | None:
    """Units of a quotient."""
    return one_of_a_kind(left / right) if is_plain(left) and is_plain(right) else None


@lru_cache(maxsize=4096)
def factor(units: Units, wanted: Units) -> float | None:
    """What a number is multiplied by for other units of the same kind, or None for another kind."""
    if not (is_plain(units) and is_plain(wanted)):
        return None
    if Quantity(1.0, units).dimensionality != Quantity(1.0, wanted).dimensionality:
        return None
    return float(ureg.convert(1.0, units, wanted))


@lru_cache(maxsize=4096)
def scale(units: Units, wanted: Units) -> tuple[float, float] | None:
    """Factor and start that turn a number into other units; None where only pint can tell.

    >>> scale(container("bar"), container("mbar")), scale(container("degC"), container("kelvin"))
    ((1000.0, 0.0), (1.0, 273.15))
    """
    one = factor(units, wanted)
    if one is not None:
        return one, 0.0
    celsius, kelvin = container("degC"), container("kelvin")
    if units == celsius and wanted == kelvin:
        return 1.0, _FREEZING
    if units == kelvin and wanted == celsius:
        return 1.0, -_FREEZING
    return (1.0, 0.0) if units == wanted == celsius else None


@lru_cache(maxsize=1024)
def base_factor(units: Units) -> float | None:
    """What a number is multiplied by for SI base units; None for °C and the like.

    >>> base_factor(container("mbar")), base_factor(container("degC"))
    (100.0, None)
    """
    if Quantity(0.0, units).to_base_units().magnitude != 0:
        return None
    return float(Quantity(1.0, units).to_base_units().magnitude)


@lru_cache(maxsize=1024)
def base_scale(units: Units) -> tuple[float, float] | None:
    """Factor and start that give a number in SI base units; None where only pint can tell.

    >>> base_scale(container("mbar")), base_scale(container("degC"))
    ((100.0, 0.0), (1.0, 273.15))
    """
    if units == container("degC"):
        return 1.0, _FREEZING
    factor = base_factor(units)
    return None if factor is None else (factor, 0.0)


@lru_cache(maxsize=1024)
def root(units: Units) -> Units:
    """The units that pint compares in."""
    return one_of_a_kind(Quantity(1.0, units).to_root_units()._units)


@lru_cache(maxsize=1024)
def unit_of(units: Units) -> Any:
    """The unit as an object of pint's."""
    return ureg.Unit(units)


@lru_cache(maxsize=1024)
def container(unit: Any) -> Units:
    """Units as a quantity holds them, from their name or from an object of pint's."""
    return one_of_a_kind((ureg.Unit(unit) if isinstance(unit, str) else unit)._units)


@lru_cache(maxsize=1024)
def difference(units: Units) -> Units:
    """Units of a step: on a scale with an offset a difference, else the same.

    >>> str(unit_of(difference(container("degC")))), str(unit_of(difference(container("mbar"))))
    ('delta_degree_Celsius', 'millibar')
    """
    name = str(unit_of(units))
    return container(f"delta_{name}") if name in ("degree_Celsius", "degree_Fahrenheit") else units


@lru_cache(maxsize=1024)
def base(units: Units) -> Units:
    """The SI base units of the same kind."""
    return one_of_a_kind(Quantity(1.0, units).to_base_units()._units)


@lru_cache(maxsize=256)
def square_root(units: Units) -> Units:
    """The units that, squared, are these."""
    return one_of_a_kind(units**0.5)
