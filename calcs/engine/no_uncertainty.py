"""Why an answer has no uncertainty: an answer shows one or says this."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.engine.declarations import Output
from calcs.engine.traced import Traced

GIVEN = "given"  # worked out from figures that are taken as they stand
LOOKED_UP = "looked_up"  # a figure of data/, as it stands there
TOO_SMALL = "too_small"  # it has one that ends before the digits shown begin


def reason(output: Output, value: Any, width: float) -> str | None:
    """Id of the words that say why no uncertainty is shown; None where nothing tells.

    Args:
        output: What is shown.
        value: Its quantity.
        width: Expanded uncertainty of it.
    """
    if width > 0:
        return TOO_SMALL
    if output.no_uncertainty_reason:
        return output.no_uncertainty_reason
    start = _named_start(value)
    if start.role == "figure":
        return LOOKED_UP
    return GIVEN if start.role == "input" or start.node is not None else None


def _named_start(value: Any) -> Any:
    """What a value is but for its unit: an input or a figure as it stands, or what was computed."""
    while value.role == "result" and value.node is not None and value.node.op == "to":
        below = value.node.operands[0]
        if not isinstance(below, Traced):
            break
        value = below
    return value


def told(answers: Sequence[Mapping[str, Any]], words: Mapping[str, Any]) -> list[str]:
    """One sentence for each reason, with the answers that it is for unless they are all there are.

    Args:
        answers: As in the answer's shape: `label`, `uncertainty_text` and `no_uncertainty_reason`.
        words: `no_uncertainty_reasons` of content/_words.yaml.
    """
    by_reason: dict[str, list[str]] = {}
    for one in answers:
        if one["no_uncertainty_reason"]:
            by_reason.setdefault(one["no_uncertainty_reason"], []).append(one["label"])
    told_of = []
    for name, labels in by_reason.items():
        which = "of_all" if len(labels) == len(answers) else "of_some"
        text = words.get(which, "{answers}: {reason}")
        told_of.append(text.format(answers="; ".join(labels), reason=words.get(name, name)))
    return told_of
