"""What of a request cannot be read, is out of range or is not asked for.

The engine words these itself. What a formula refuses is in `errors.py`.
"""

from __future__ import annotations

from calcs.engine.errors import Missing, Naming, Refusal


class NotANumber(Refusal):
    """The text typed is not one plain finite number."""

    kind = "not_a_number"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        fix = "Write the decimal point as a full stop." if self.facts.get("comma") else ""
        fix = fix or str(self.facts.get("fix") or "Type one number with the digits 0 to 9.")
        found = str(self.facts["found"])
        return f"{naming(self.field)} must be a number. You entered “{found[:40]}”. {fix}"


class NotWhole(Refusal):
    """A count with a fraction: of what is counted there is no half."""

    kind = "not_whole"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        found = self.facts["found"]
        return f"{naming(self.field)} is a count, so it must be a whole number. It is {found}."


class WrongUnit(Refusal):
    """A value cannot be converted to the unit in inputs."""

    kind = "wrong_unit"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        why = f"{self.facts['why']} " if self.facts.get("why") else ""
        return (
            f"{naming(self.field)} cannot be in “{str(self.facts['found'])[:40]}”. {why}"
            f"Use {self.facts['unit'] or 'a bare number'} or another unit of the same kind."
        )


class OutOfRange(Refusal):
    """A reading is outside the range in inputs."""

    kind = "out_of_range"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        low, high, unit = (self.facts[key] for key in ("low", "high", "unit"))
        return (
            f"{naming(self.field)} must be between {low} and {high} {unit}".rstrip()
            + f". You entered {self.facts['found']}.{self.facts.get('near', '')}"
        )

    def plain(self, naming: Naming) -> str:  # noqa: ARG002  it names no other input
        """See `Refusal.plain`."""
        low, high, spelling = (self.facts[key] for key in ("low", "high", "spelling"))
        return (
            f"{self.field}: got {self.facts['found']}, expected {low} to {high} {spelling}".rstrip()
            + f". Check the reading and its unit.{self.facts.get('near', '')}"
        )


class NotChosen(Missing):
    """A choice that must be made. The form shows the options; the command line has to name them."""

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return f"{naming(self.field)}: nothing is chosen. Choose one."

    def plain(self, naming: Naming) -> str:  # noqa: ARG002  it names no other input
        """See `Refusal.plain`."""
        return f"{self.field}: nothing is chosen. Choose one of: {self.facts['options']}."


class NotADate(Refusal):
    """The text typed is not a date."""

    kind = "not_a_date"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        found = str(self.facts["found"])[:40]
        return f"{naming(self.field)} must be a date such as 2026-03-01. You entered “{found}”."


class NotAnOption(Refusal):
    """A choice that is not on the list."""

    kind = "unknown"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return (
            f"{naming(self.field)} has no option “{str(self.facts['found'])[:40]}”. "
            f"It has: {self.facts['options']}.{self.facts.get('nearest', '')}"
        )


class WrongForm(Refusal):
    """A part of a request that is of another JSON type than it must be.

    Args:
        field: The part: an input, or `inputs`, `date` or `overrides`.
        found: What it is.
        expected: What it must be.
    """

    kind = "wrong_form"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return (
            f"{naming(self.field)} is {self.facts['found']}. It must be {self.facts['expected']}."
        )


class UnknownFigure(Refusal):
    """A figure of the reader's own for one that is not held, or not asked for."""

    kind = "unknown"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        if self.facts.get("is_unused"):
            return f"{naming(self.field)} is no figure that this calculator uses. Leave it out."
        return f"No figure is named “{(self.field or '')[:60]}”.{self.facts.get('nearest', '')}"


class NotASensibleFigure(Refusal):
    """A figure of the reader's own that no copy of the source can have."""

    kind = "out_of_range"


class UnknownInput(Refusal):
    """A name that is no input of this calculator."""

    kind = "unknown"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        names, nearest = self.facts["names"], self.facts["nearest"]
        return f"No input is named {naming(self.field)}. There are: {names}.{nearest}"


class NotUsed(Refusal):
    """A value given for an input that another choice has switched off."""

    kind = "unknown"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return (
            f"{naming(self.field)} is used only when {naming(str(self.facts['input']))} "
            f"is {self.facts['options']}. Leave it out, or change that choice."
        )


class NoStep(Refusal):
    """An instrument of the reader's own whose smallest step is nothing: none is that sure."""

    kind = "impossible"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return (
            f"{naming(self.field)} cannot be nothing: every instrument has a smallest step. "
            "Read it off the display, or choose an instrument of the list."
        )
