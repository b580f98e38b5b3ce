"""What the reader is told when an input gives no answer.

Each refusal is worded twice from the same facts: `message` for the form, with the field's label,
and `plain` for the command line, with the input's name.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

# What stands for a named input in a message: its label on the form, its name at the command line.
Naming = Callable[[str], str]


class Refusal(Exception):
    """One input that cannot be used, and why.

    Args:
        field: Name of the input; None where the whole request is at fault.
    """

    kind = "refused"

    def __init__(self, field: str | None, **facts: object) -> None:
        super().__init__(field, facts)
        self.field = field
        self.facts: Mapping[str, object] = facts

    def sentence(self, naming: Naming) -> str:
        """What was found, what was expected and what to do, for the form."""
        raise NotImplementedError

    def as_json(self, labels: Mapping[str, str]) -> dict[str, str | None]:
        """The refusal as the bridge passes it on."""
        own = self.sentence(lambda name: labels.get(name, name.replace("_", " ")))
        plain = self.plain().replace("\N{NO-BREAK SPACE}", " ")
        return {"field": self.field, "kind": self.kind, "message": own, "plain": plain}

    def plain(self) -> str:
        """The same for the command line."""
        named = self.sentence(lambda name: name)
        return f"{self.field}: {named.removeprefix(f'{self.field} ')}" if self.field else named


class NotANumber(Refusal):
    """The text typed is not one plain finite number."""

    kind = "not_a_number"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        fix = "Write the decimal point as a full stop." if self.facts.get("comma") else ""
        fix = fix or str(self.facts.get("fix") or "Type one number with the digits 0 to 9.")
        found = str(self.facts["found"])
        return f"{naming(self.field or '')} must be a number. You entered “{found[:40]}”. {fix}"


class WrongUnit(Refusal):
    """A value cannot be converted to the unit in inputs."""

    kind = "wrong_unit"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        why = f"{self.facts['why']} " if self.facts.get("why") else ""
        return (
            f"{naming(self.field or '')} cannot be in “{str(self.facts['found'])[:40]}”. {why}"
            f"Use {self.facts['unit'] or 'a bare number'} or another unit of the same kind."
        )


class OutOfRange(Refusal):
    """A reading is outside the range in inputs."""

    kind = "out_of_range"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        low, high, unit = (self.facts[key] for key in ("low", "high", "unit"))
        return (
            f"{naming(self.field or '')} must be between {low} and {high} {unit}".rstrip()
            + f". You entered {self.facts['found']}.{self.facts.get('near', '')}"
        )

    def plain(self) -> str:
        """See `Refusal.plain`."""
        low, high, spelling = (self.facts[key] for key in ("low", "high", "spelling"))
        return (
            f"{self.field}: got {self.facts['found']}, expected {low} to {high} {spelling}".rstrip()
            + f". Check the reading and its unit.{self.facts.get('near', '')}"
        )


class Missing(Refusal):
    """An input that the answer needs was left empty."""

    kind = "missing"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return f"{naming(self.field or '')} is empty. {self.facts.get('fix', 'Enter it.')}"


class NotChosen(Missing):
    """A choice that must be made. The form shows the options; the command line has to name them."""

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return f"{naming(self.field or '')}: nothing is chosen. Choose one."

    def plain(self) -> str:
        """See `Refusal.plain`."""
        return f"{self.field}: nothing is chosen. Choose one of: {self.facts['options']}."


class NotADate(Refusal):
    """The text typed is not a date."""

    kind = "not_a_date"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        found = str(self.facts["found"])[:40]
        return (
            f"{naming(self.field or '')} must be a date such as 2026-03-01. You entered “{found}”."
        )


class NotAnOption(Refusal):
    """A choice that is not on the list."""

    kind = "unknown"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return (
            f"{naming(self.field or '')} has no option “{str(self.facts['found'])[:40]}”. "
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

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return (
            f"{naming(self.field or '')} is {self.facts['found']}. "
            f"It must be {self.facts['expected']}."
        )


class UnknownFigure(Refusal):
    """A figure of the reader's own for one that is not held, or not asked for."""

    kind = "unknown"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        if self.facts.get("is_unused"):
            return (
                f"{naming(self.field or '')} is no figure that this calculator uses. Leave it out."
            )
        return f"No figure is named “{(self.field or '')[:60]}”.{self.facts.get('nearest', '')}"


class NotASensibleFigure(Refusal):
    """A figure of the reader's own that no copy of the source can have."""

    kind = "out_of_range"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return str(self.facts["reason"]).format_map(_Named(naming, self.field))


class UnknownInput(Refusal):
    """A name that is no input of this calculator."""

    kind = "unknown"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        names, nearest = self.facts["names"], self.facts["nearest"]
        return f"No input is named {naming(self.field or '')}. There are: {names}.{nearest}"


class NotUsed(Refusal):
    """A value given for an input that another choice has switched off."""

    kind = "unknown"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return (
            f"{naming(self.field or '')} is used only when {naming(str(self.facts['input']))} "
            f"is {self.facts['options']}. Leave it out, or change that choice."
        )


class Impossible(Refusal):
    """Readings that cannot all be true.

    Args:
        field: The reading to look at first.
        reason: Why; `{name}` stands for another input, `{this}` for the field itself.
    """

    kind = "impossible"

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(field, reason=reason)

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return str(self.facts["reason"]).format_map(_Named(naming, self.field))


class NotInForce(Refusal):
    """An edition chosen for a day on which it may not be used."""

    kind = "not_in_force"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        return str(self.facts["reason"]).format_map(_Named(naming, self.field))


class NotHeld(Refusal):
    """A figure that its source has and this handbook does not hold.

    Args:
        field: The input in which the reader can give the figure.
        figure: Name of the figure.
        reason: Sentences of the calculator's own in place of the usual ones.
    """

    kind = "not_held"

    def sentence(self, naming: Naming) -> str:
        """See `Refusal.sentence`."""
        if "reason" in self.facts:
            return str(self.facts["reason"]).format_map(_Named(naming, self.field))
        return (
            f"{naming(self.field or '')} is not held here. "
            f"Read it in {self.facts['source']} and enter it."
        )


class Refused(Exception):
    """Every refusal of one request, together."""

    def __init__(self, refusals: list[Refusal]) -> None:
        super().__init__(refusals)
        self.refusals = refusals


class _Named(dict[str, str]):
    """Turns `{name}` in a reason into the label or the name; `{this}` may be a cell of a table."""

    def __init__(self, naming: Naming, this: str | None) -> None:
        super().__init__({"this": naming(this)} if this else {})
        self._naming = naming

    def __missing__(self, name: str) -> str:
        return self._naming(name)
