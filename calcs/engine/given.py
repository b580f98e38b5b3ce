"""What the inputs of one request were read as, beside the figures of its day."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from calcs.engine.errors import Refusal
from calcs.engine.in_force import InForce
from calcs.engine.registry import BY_VERDICT, DECISION_RULE


@dataclass
class Given:
    """The inputs of one request, read.

    Args:
        in_force: The figures as they stand on the day of the test.
        labels: Words for the names of inputs.
        values: By input name: a quantity, a word, a date, a tuple of rows, or None.
        typed: The inputs as the answer repeats them.
        refusals: What cannot be used, collected while reading.
    """

    in_force: InForce
    labels: Mapping[str, str]
    values: dict[str, Any] = field(default_factory=dict)
    typed: dict[str, Any] = field(default_factory=dict)
    refusals: list[Refusal] = field(default_factory=list)

    def rule(self, declared: str) -> str:
        """Decision rule of a verdict: the reader's choice, or else the one that it declares."""
        chosen = self.values.get(DECISION_RULE.name) or BY_VERDICT
        return declared if chosen == BY_VERDICT else str(chosen)

    def collect(self, read_one: Callable[..., Any], *arguments: Any) -> Any:
        """Result of `read_one`, or None with its refusal kept."""
        try:
            return read_one(*arguments)
        except Refusal as refusal:
            self.refusals.append(refusal)
            return None
