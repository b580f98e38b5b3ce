"""What the reader is told when an input gives no answer.

Each refusal is worded twice from the same facts: `message` for the form, with the field's label,
and `plain` for the command line, with the input's name. What the engine refuses it words itself.
What a formula refuses has its words in content/, by an id.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Naming:
    """What a message is worded with.

    Args:
        name: What stands for a named input: its label on the form, its name at the command line.
        refusals: Words by id: `refusals` of the calculator's content and of content/_words.yaml.
    """

    name: Callable[[str], str]
    refusals: Mapping[str, str]

    def __call__(self, name: str | None) -> str:
        """What stands for an input; nothing for none."""
        return self.name(name or "")


class Refusal(Exception):
    """One input that cannot be used, and why.

    Args:
        field: Name of the input; None where the whole request is at fault.
        reason: Id of its words where a formula refuses. In them `{this}` stands for the field, and
            the name of any other input for that.
        facts: What else stands in braces there. Where the engine refuses, what its sentence is made
            of, or in `told` the sentence itself.
    """

    kind = "refused"

    def __init__(self, field: str | None, reason: str | None = None, /, **facts: object) -> None:
        super().__init__(field, reason, facts)
        self.field, self.reason = field, reason
        self.facts: Mapping[str, object] = facts

    def sentence(self, naming: Naming) -> str:
        """What was found, what was expected and what to do, for the form."""
        if self.reason is None:
            return self.usual(naming)
        words = naming.refusals.get(self.reason, self.reason)
        return words.format_map(_Values(naming, self.field, self.facts))

    def usual(self, naming: Naming) -> str:
        """The same in words of the engine."""
        return str(self.facts["told"]).format_map(_Values(naming, self.field, {}))

    def as_json(
        self, labels: Mapping[str, str], refusals: Mapping[str, str] | None = None
    ) -> dict[str, str | None]:
        """The refusal as the bridge passes it on.

        Args:
            labels: What the form calls each input.
            refusals: As in `Naming`.
        """
        words = refusals or {}
        form = Naming(lambda name: labels.get(name, name.replace("_", " ")), words)
        plain = self.plain(Naming(str, words)).replace("\N{NO-BREAK SPACE}", " ")
        return {
            "field": self.field,
            "kind": self.kind,
            "message": self.sentence(form),
            "plain": plain,
        }

    def plain(self, naming: Naming) -> str:
        """The same for the command line, whose naming gives each name as it is."""
        named = self.sentence(naming)
        return f"{self.field}: {named.removeprefix(f'{self.field} ')}" if self.field else named


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


class Missing(Refusal):
    """An input that the answer needs was left empty."""

    kind = "missing"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        rows = self.facts.get("rows")
        fix = f"Fill at least {rows} of its rows." if rows else "Enter it."
        return f"{naming(self.field)} is empty. {fix}"


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


class Impossible(Refusal):
    """Readings that cannot all be true, as a formula finds: the reading to look at first."""

    kind = "impossible"


class NoStep(Refusal):
    """An instrument of the reader's own whose smallest step is nothing: none is that sure."""

    kind = "impossible"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return (
            f"{naming(self.field)} cannot be nothing: every instrument has a smallest step. "
            "Read it off the display, or choose an instrument of the list."
        )


class NotInForce(Refusal):
    """An edition or a figure asked for on a day on which it may not be used."""

    kind = "not_in_force"


class NotHeld(Refusal):
    """A figure that its source has and this handbook does not hold.

    Facts where the engine words it: `figure`, its `label` and its `source`.
    """

    kind = "not_held"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        return (
            f"{naming(self.field)} is not held here. "
            f"Read it in {self.facts['source']} and enter it."
        )


class Refused(Exception):
    """Every refusal of one request, together."""

    def __init__(self, refusals: list[Refusal]) -> None:
        super().__init__(refusals)
        self.refusals = refusals


class InputName(str):
    """A value in a refusal's words that is the name of an input, shown as the form calls it."""

    __slots__ = ()


class _Values(dict[str, str]):
    """Turns `{name}` in words into a value of that name, else into what an input is called."""

    def __init__(self, naming: Naming, this: str | None, values: Mapping[str, object]) -> None:
        super().__init__({"this": naming(this)} if this else {})
        for name, value in values.items():
            self[name] = naming(value) if isinstance(value, InputName) else str(value)
        self._naming = naming

    def __missing__(self, name: str) -> str:
        return self._naming(name)
