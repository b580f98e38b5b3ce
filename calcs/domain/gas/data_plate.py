"""What a data plate says, for every calculator that asks for it."""

from __future__ import annotations

from calcs.engine.declarations import STATED, Input

PLATE_INPUT = Input(
    "plate_input", "kW", low=0.5, high=5000, also=("Btu/h",), optional=True, uncertainty=STATED
)
