"""The questions from the easy to the hard, as somebody is led through them who begins with nothing.

How hard one is comes from its template alone: what it asks for, and how many figures are to be
handled. It is a measure for the order, and none of whoever answers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

# What an answer takes, beside its figures: to read or to choose, to act or to work something out,
# to judge or to order, to find what does not fit.
TAKES = {
    "read": 0,
    "choose_one": 0,
    "what_now": 1,
    "number": 2,
    "choose_all": 2,
    "verdict": 3,
    "order": 3,
    "diagnose": 4,
    "wrong_reading": 4,
}
ALIKE = 4  # of one kind before the next of it counts as one harder


def effort(template: Mapping[str, Any]) -> int:
    """How much a question takes."""
    return TAKES[template["asks"]] + len(template.get("draw", {}))


def easy_first(questions: Mapping[str, Any], topics: Mapping[str, str]) -> list[str]:
    """Ids of the questions, the first ones easy, of many topics and of several kinds.

    Each waits for the easier ones of its topic, and a little for those of its kind, so that neither
    is gone through alone. Of two that are as hard the one comes first whose topic does.

    Args:
        questions: Their templates.
        topics: Those that there are, as they come in a visit.
    """
    place = {topic: number for number, topic in enumerate(topics)}
    waits, of_topic, of_kind = {}, Counter[str](), Counter[str]()

    def within(name: str) -> tuple[int, int, str]:
        one = questions[name]
        return effort(one), place.get(one["topic"], len(place)), name

    for name in sorted(questions, key=within):
        topic, kind = questions[name]["topic"], questions[name]["asks"]
        waits[name] = of_topic[topic] + of_kind[kind] // ALIKE
        of_topic[topic] += 1
        of_kind[kind] += 1
    return sorted(questions, key=lambda name: (effort(questions[name]) + waits[name], within(name)))
