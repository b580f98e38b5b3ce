"""Series of readings by NumPy and SciPy: gauges against each other, gas in a room over time."""

from __future__ import annotations

from typing import Any

from calcs.engine.units import Quantity, parse_quantity

__all__ = [
    "fall_by_scipy",
    "gauge_check_by_numpy",
    "sensor_between_rows",
    "worst_stretch_by_numpy",
]


def _column(rows: Any, name: str, unit: str) -> Any:
    import numpy as np

    return np.array([parse_quantity(row[name]).to(unit).magnitude for row in rows])


def gauge_check_by_numpy(given: Any) -> dict[str, Any]:
    """NumPy: differences and error numbers of all points at once, with the certificates' U."""
    import numpy as np

    reference, gauge = (_column(given["points"], name, "mbar") for name in ("reference", "gauge"))
    both = [
        parse_quantity(given[f"expanded_{name}"]).to("mbar").magnitude
        for name in ("gauge", "reference")
    ]
    differences = gauge - reference
    return {
        "greatest_difference": Quantity(differences[np.argmax(np.abs(differences))], "mbar"),
        "error_number": Quantity(np.max(np.abs(differences)) / np.hypot(*both), ""),
    }


def fall_by_scipy(given: Any) -> dict[str, Any]:
    """SciPy: trapezoid rule over all readings, and a regression line from the highest one on."""
    import numpy as np
    from scipy.integrate import trapezoid
    from scipy.stats import linregress

    hours = _column(given["readings"], "time", "hour")
    gas = _column(given["readings"], "carbon_monoxide", "ppm")
    excess = gas[np.argmax(gas) :] - parse_quantity(given["background"]).to("ppm").magnitude
    line = linregress(hours[np.argmax(gas) :], np.log(excess))
    return {
        "highest": Quantity(gas.max(), "ppm"),
        "mean": Quantity(trapezoid(gas, hours) / (hours[-1] - hours[0]), "ppm"),
        "air_changes": Quantity(-line.slope, "1/hour"),
    }


def worst_stretch_by_numpy(given: Any) -> dict[str, Any]:
    """NumPy and SciPy: every stretch of a quarter of an hour, begun at 20,000 moments."""
    import numpy as np
    from scipy.integrate import cumulative_trapezoid

    minutes = _column(given["readings"], "time", "min")
    gas = _column(given["readings"], "carbon_monoxide", "ppm")
    starts = np.linspace(minutes[0], minutes[-1] - 15, 20001)
    fine = np.unique(np.concatenate([minutes, starts, starts + 15]))
    area = cumulative_trapezoid(np.interp(fine, minutes, gas), fine, initial=0)
    means = (np.interp(starts + 15, fine, area) - np.interp(starts, fine, area)) / 15
    return {"guideline_mean": Quantity(means.max(), "ppm")}


def sensor_between_rows(given: Any) -> dict[str, Any]:
    """SciPy: the constant B that two rows of a maker's table share, then the root of its curve."""
    import numpy as np
    from scipy.optimize import brentq

    kelvin = _column(given["maker_table"], "temperature", "kelvin")
    ohms = _column(given["maker_table"], "resistance", "ohm")
    beta = np.log(ohms[0] / ohms[1]) / (1 / kelvin[0] - 1 / kelvin[1])
    wanted = parse_quantity(given["resistance"]).to("ohm").magnitude

    def missed(at: float) -> float:
        return float(ohms[0] * np.exp(beta * (1 / at - 1 / kelvin[0])) - wanted)

    return {"table_temperature": Quantity(brentq(missed, 200, 500, xtol=1e-10) - 273.15, "degC")}
