"""What is told of a class: the hardest question first, and the weakest topic."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from calcs.practice import put
from calcs.practice.class_count import COUNTS, OR
from calcs.practice.pack import Pack

FEW = 5  # that were asked: a share of fewer says little
MOST_INSTEAD = 3  # wrong choices of a question that are told by their text


def told(
    name: str, paper: Mapping[str, Any], counted: Mapping[str, Any], pack: Pack
) -> dict[str, Any]:
    """The counts of a class.

    Args:
        name: Of the paper.
        paper: The paper.
        counted: As `class_count.count` gives it.
        pack: All questions.

    Returns:
        How many `sat` it, `reached` its pass mark and chose something `unsafe`. `questions` has
        each with its counts, its `slips` and what was chosen `instead`, those that few were asked
        last. Its `number` is its place in the paper, if all had it there, else 0. `slips` has
        those of all; `topics` and `outcomes` how many answers were asked for there, and how many
        were right.
    """
    listed: Mapping[str, Mapping[str, Any]] = counted["questions"]
    hardest = sorted(
        listed.items(), key=lambda each: (each[1]["sat"] < FEW, _share(each[1]), each[0])
    )
    slips: Counter[str] = Counter()
    for tally in listed.values():
        slips.update(tally["slips"])
    return {
        "paper": name,
        "title": paper["title"],
        "percent": int(paper["pass"]["percent"]),
        "no_unsafe": paper["pass"].get("no_unsafe") == "yes",
        **{key: counted[key] for key in ("sat", "reached", "unsafe")},
        "few": FEW,
        "questions": [_question(each, tally, pack) for each, tally in hardest],
        "slips": _slips(slips, pack),
        "topics": _topics(listed, pack),
        "outcomes": _outcomes(listed, pack),
    }


def _share(tally: Mapping[str, Any]) -> float:
    return float(tally["right"] / tally["sat"])


def _question(name: str, tally: Mapping[str, Any], pack: Pack) -> dict[str, Any]:
    about = put.listed(name, pack.questions[name])
    often = sorted(tally["instead"].items(), key=lambda each: (-each[1], each[0]))
    return {
        "id": name,
        "title": about["title"],
        "topic": about["topic"],
        "number": tally["number"],
        **{key: tally[key] for key in COUNTS},
        "share_right": round(_share(tally), 3),
        "slips": _slips(Counter(tally["slips"]), pack),
        "instead": [{"say": text, "count": count} for text, count in often[:MOST_INSTEAD]],
    }


def _slips(counted: Counter[str], pack: Pack) -> list[dict[str, Any]]:
    listed = sorted(counted.items(), key=lambda each: (-each[1], each[0]))
    return [{"name": n, "say": _words(n, pack), "count": count} for n, count in listed]


def _words(names: str, pack: Pack) -> str:
    """One slip in words, or several that lead to one answer and can't be told apart."""
    said = [str(pack.slips.get(each, each)) for each in names.split(OR)]
    return said[0] if len(said) == 1 else f"either {', or '.join(said)}"


def _topics(tallies: Mapping[str, Mapping[str, Any]], pack: Pack) -> list[dict[str, Any]]:
    topics = dict.fromkeys(pack.questions[each]["topic"] for each in tallies)
    found = [
        {
            "topic": topic,
            "title": pack.topics.get(topic, topic),
            **_sum(t for each, t in tallies.items() if pack.questions[each]["topic"] == topic),
        }
        for topic in topics
    ]
    return sorted(found, key=lambda each: (each["right"] / each["sat"], each["topic"]))


def _outcomes(tallies: Mapping[str, Mapping[str, Any]], pack: Pack) -> list[dict[str, Any]]:
    found = []
    for each in pack.outcomes:
        asked = [tally for name, tally in tallies.items() if name in each["questions"]]
        if asked:
            of = {key: each[key] for key in ("code", "says", "host")}
            found.append({**of, **_sum(asked)})
    return sorted(found, key=lambda each: (each["right"] / each["sat"], each["code"]))


def _sum(tallies: Iterable[Mapping[str, Any]]) -> dict[str, int]:
    listed = [*tallies]
    return {key: sum((each[key] for each in listed), start=0) for key in ("sat", "right", "unsafe")}
