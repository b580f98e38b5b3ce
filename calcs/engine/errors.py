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


class Missing(Refusal):
    """An input that the answer needs was left empty."""

    kind = "missing"

    def usual(self, naming: Naming) -> str:
        """See `Refusal.usual`."""
        rows = self.facts.get("rows")
        fix = f"Fill at least {rows} of its rows." if rows else "Enter it."
        return f"{naming(self.field)} is empty. {fix}"


class Impossible(Refusal):
    """Readings that cannot all be true, as a formula finds: the reading to look at first."""

    kind = "impossible"


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
