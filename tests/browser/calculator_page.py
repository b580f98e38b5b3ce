"""A calculator on an open page, as a reader uses it."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

START_MS = 120_000  # the first answer waits for the runtime, on a machine that does other work too
READINGS = {"volume": "0.1", "elapsed": "120"}  # of a gas rate
GAS_RATE = "3.000\u00a0m³/h"  # that they give: 0.1 m³ in 120 s is 0.1 × 3600 ÷ 120 m³/h

TEXTS = """(root, {list, part}) => Object.fromEntries(
    [...root.querySelectorAll(`[data-hb-result] [${list}]`)].map(
        (node) => [node.getAttribute(list), part ? node.getAttribute(part) : node.textContent]))"""


class CalculatorPage:
    """The form and the answer of one calculator.

    Args:
        page: An open page that holds it.
        calculator: Its id.
    """

    def __init__(self, page: Page, calculator: str) -> None:
        self.page = page
        self.calculator = calculator
        self.root = page.locator(f'hb-calculator[calculator="{calculator}"]').first

    def control(self, name: str) -> Locator:
        """The control with this name."""
        return self.root.locator(f'[name="{name}"]')

    def enter(self, **readings: str) -> None:
        """Type each reading; a unit or a choice is picked: `elapsed="120", elapsed_unit="s"`."""
        for name, value in readings.items():
            self.control(re.sub("_unit$", ".unit", name)).fill(value)

    def choose(self, name: str, value: str) -> None:
        """Pick an option of a list, or of a set of radios."""
        control = self.control(name)
        if control.first.evaluate("control => control.type") == "radio":
            self.root.locator(f'label[for="{self._radio(name, value)}"]').click()
        else:
            control.select_option(value)

    def _radio(self, name: str, value: str) -> str:
        return str(self.root.locator(f'[name="{name}"][value="{value}"]').get_attribute("id"))

    def press(self, attribute: str) -> None:
        """Press one of its buttons."""
        self.root.locator(f"[{attribute}]").click()

    def submit(self) -> None:
        """Ask for the answer outright."""
        self.root.locator("[type=submit]").click()

    def expect_state(self, state: str) -> None:
        """Wait until it is in this state."""
        expect(self.root).to_have_attribute("data-state", state, timeout=START_MS)

    def expect_answer(self, name: str, text: str) -> None:
        """Wait until this answer reads so."""
        shown = self.root.locator(f'[data-hb-own] [data-hb-answer="{name}"]')
        expect(shown).to_have_text(text, timeout=START_MS)

    def refusal(self, name: str) -> Locator:
        """The message beside a field."""
        return self.root.locator(f'[data-hb-refusal="{name}"]')

    def answers(self) -> dict[str, str]:
        """Every answer shown, as text by name."""
        return self._texts("data-hb-answer")

    def outcomes(self) -> dict[str, str]:
        """The outcome of every verdict shown, by name."""
        return self._texts("data-hb-verdict", "data-outcome")

    def result(self) -> str:
        """All the words of the result but its title: answers, verdicts, working, sources.

        What the visit record offers beside the reader's own answer is no part of it.
        """
        read = """node => {
            const copy = node.cloneNode(true);
            copy.querySelector('[data-hb-keep-bar]')?.remove();
            return [...copy.children].map((part) => part.textContent).join(' ');
        }"""
        words = str(self.root.locator("[data-hb-result]").evaluate(read))
        title = str(self.root.locator("[data-hb-result-title]").text_content())
        return " ".join(words.replace(title, "", 1).split())

    def _texts(self, attribute: str, part: str | None = None) -> dict[str, str]:
        found: Any = self.root.evaluate(TEXTS, {"list": attribute, "part": part})
        return dict(found)
