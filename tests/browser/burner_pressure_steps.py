"""The steps of the burner pressure that answer what is typed in them."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

PRESSURE, WHICH = "procedures/burner_pressure.html", "procedures/which_checks_apply.html"
PLATE, TOLERANCE = "plate.burner_pressure_max", "instructions.burner_pressure_tolerance"
FOUND, LEFT = "burner_pressure.found_max", "burner_pressure.left_max"


def outcome(page: Page, step: str) -> Locator:
    return page.locator(f'[data-hb-outcome="burner_pressure.{step}"]')
