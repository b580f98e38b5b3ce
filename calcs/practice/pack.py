"""What the questions are made from: their templates, the words of slips, and the calculators."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from calcs.practice.figures import Values

Ask = Callable[[Mapping[str, Any]], dict[str, Any]]
LITERAL = "="  # `=index` is the choice itself; any other text names a figure that was drawn
KEPT = 64


@dataclass(frozen=True)
class Pack:
    """The templates of one edition.

    Args:
        questions: By id, as the build has resolved them: each act and reason is there in words.
        slips: What somebody did who made the slip, as it goes on after "you".
        topics: Title of each topic, as they come in a visit.
        today: The day whose limits count.
        ask: The bridge of the calculators.
        outcomes: Of hosts' curricula: `code`, `says`, `host`, and the `questions` that serve it.
    """

    questions: Mapping[str, Any]
    slips: Mapping[str, str]
    topics: Mapping[str, str]
    today: str
    ask: Ask
    kept: dict[str, Any] = field(default_factory=dict)
    outcomes: Sequence[Mapping[str, Any]] = ()

    def answers(
        self, calculator: str, given: Mapping[str, Any], values: Values, *, whole: bool = False
    ) -> dict[str, Any] | None:
        """The answer of a calculator, or nothing where it refuses.

        Args:
            calculator: Its id.
            given: What stands behind each input.
            values: The figures that are named there.
            whole: With the working.
        """
        reply = self.reply(calculator, inputs(given, values), whole=whole)
        found: dict[str, Any] | None = reply.get("answer")
        return found

    def reply(
        self, calculator: str, given: Mapping[str, Any], *, whole: bool = False
    ) -> dict[str, Any]:
        """What the calculator says to these inputs.

        Raises:
            RuntimeError: It failed, which is a fault in it.
        """
        action = "run" if whole else "begin"
        key = repr((action, calculator, given))
        if key not in self.kept:
            if len(self.kept) > KEPT:
                self.kept.clear()
            request = {"action": action, "calculator": calculator, "today": self.today}
            reply = self.ask({**request, "inputs": dict(given)})
            if "failed" in reply:
                raise RuntimeError(f"{calculator} failed: {reply['failed']['message']}")
            self.kept[key] = reply
        found: dict[str, Any] = self.kept[key]
        return found


def inputs(given: Mapping[str, Any], values: Values) -> dict[str, Any]:
    """What is typed into each input, from what a template says stands behind it."""
    return {name: _typed(behind, values) for name, behind in given.items()}


def _typed(behind: Any, values: Values) -> dict[str, Any]:
    if isinstance(behind, list):
        return {
            "rows": [{name: _typed(each, values) for name, each in row.items()} for row in behind]
        }
    if str(behind).startswith(LITERAL):
        return {"value": str(behind).removeprefix(LITERAL)}
    return {"value": values[behind]}
