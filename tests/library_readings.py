"""Series of readings by NumPy and SciPy: gauges against each other."""

from __future__ import annotations

from typing import Any

from calcs.units import Quantity, parse_quantity

__all__ = ["gauge_check_by_numpy"]


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
