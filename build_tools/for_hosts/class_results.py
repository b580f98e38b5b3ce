"""The command `results`: how hard each question of a paper was, and which slips were made.

Each answer is marked as the handbook marks it. Only counts are kept: what is told says nothing of
anybody.
"""

import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from build_tools.for_hosts.answers_read import NotRead, Read, Sat, read
from build_tools.for_hosts.packed import packed
from build_tools.sources import overlays
from build_tools.sources.load_project import load
from build_tools.sources.problems import rename_fix
from calcs.practice import papers as of_papers
from calcs.practice import put
from calcs.practice.draw import Question
from calcs.practice.marking import mark
from calcs.practice.pack import Pack
from calcs.practice.paper_text import LETTERS

FEW = 5  # that sat a question: a share of fewer says little
RIGHT, WRONG = "right", "wrong"  # where somebody has marked it already


@dataclass
class Tally:
    """What became of one question."""

    title: str
    topic: str
    sat: int = 0
    right: int = 0
    left_open: int = 0
    unread: int = 0
    unsafe: int = 0
    slips: Counter[str] = field(default_factory=Counter)

    @property
    def share(self) -> float:
        """Which part of those who were asked had it right."""
        return self.right / self.sat


def main(paper: str, file: Path, overlay: Sequence[Path] = (), *, json: bool = False) -> int:
    """Tell how a class did. Exit status 1 where its file can't be used."""
    try:
        text = file.read_text("utf-8")
        pack, papers = packed(load(layers=overlays.read(overlay)))
        found = results(paper, read(text, file.name), pack, papers)
    except UnicodeDecodeError:
        print(f"{file.name} is not UTF-8.\nFix: save it as CSV in UTF-8.", file=sys.stderr)
        return 1
    except NotRead as problem:
        print(problem, file=sys.stderr)
        return 1
    print(_as_json(found) if json else "\n".join(_lines(found)))
    return 0


def _as_json(found: Mapping[str, Any]) -> str:
    return json.dumps(found, ensure_ascii=False, indent=1)


def results(name: str, given: Read, pack: Pack, papers: Mapping[str, Any]) -> dict[str, Any]:
    """The counts of a class.

    Args:
        name: Of the paper.
        given: What its file holds.
        pack: All questions.
        papers: All papers, by id.

    Raises:
        NotRead: There is no such paper, or no such question in it.
    """
    if name not in papers:
        fix = rename_fix(name, papers, f"name one of: {', '.join(sorted(papers))}")
        raise NotRead(f"There is no paper '{name}'.\nFix: {fix}.")
    tallies: dict[str, Tally] = {}
    drawn: dict[str, list[Question]] = {}
    for one in given.sat:
        if one.seed not in drawn:
            drawn[one.seed] = of_papers.drawn(papers[name], one.seed, pack)
        _count(one, drawn[one.seed], pack, tallies)
    hardest = sorted(tallies.items(), key=lambda each: (each[1].share, each[0]))
    slips = sum((tally.slips for tally in tallies.values()), start=Counter())
    return {
        "paper": name,
        "title": papers[name]["title"],
        "sat": len(given.sat),
        "left_out": [*given.left_out],
        "questions": [_told(question, tally, pack) for question, tally in hardest],
        "slips": _slips(slips, pack),
    }


def _count(one: Sat, asked: Sequence[Question], pack: Pack, tallies: dict[str, Tally]) -> None:
    """Count what one candidate handed in. A question that has no answer was left open."""
    beyond = [number for number in one.answers if not 1 <= number <= len(asked)]
    if any(one.answers[number] for number in beyond):
        raise NotRead(
            f"Row {one.row} answers question {beyond[0]}, and the paper has {len(asked)}.\n"
            "Fix: name the paper that was sat."
        )
    for number, question in enumerate(asked, start=1):
        about = put.listed(question.id, question.template)
        tally = tallies.setdefault(question.id, Tally(about["title"], about["topic"]))
        tally.sat += 1
        answer = one.answers.get(number, "")
        told = _marked(question, answer, pack) if answer else {"right": False, "open": True}
        tally.left_open += "open" in told
        tally.unread += "refused" in told
        tally.right += bool(told.get("right"))
        tally.unsafe += bool(told.get("unsafe"))
        tally.slips.update(dict.fromkeys((s["name"] for s in told.get("slips", ())), 1))


def _marked(question: Question, answer: str, pack: Pack) -> Mapping[str, Any]:
    """What the handbook says to an answer as it stands on paper: a number, or letters."""
    if answer.lower() in {RIGHT, WRONG}:
        return {"right": answer.lower() == RIGHT}
    if question.asks in put.NUMBERS:
        return mark(question, {"text": answer}, pack)
    places = [*_places(answer, len(question.items))]
    is_one = question.asks not in {"choose_all", "order"}
    if not places or (is_one and len(places) > 1):
        return {"refused": "It is no letter of a choice."}
    if question.asks == "order":
        ids = [question.items[place]["id"] for place in places]
        return mark(question, {"order": ids}, pack)
    if question.asks == "verdict":
        return mark(question, {"chosen": [question.items[places[0]]["id"]]}, pack)
    return mark(question, {"chosen": places}, pack)


def _places(answer: str, count: int) -> Iterable[int]:
    """Which choices letters name: `C A`, `c, a` or `CA`. None of them where one is no choice."""
    letters = [sign for sign in answer.upper() if sign.isalnum()]
    known = LETTERS[:count]
    if all(sign in known for sign in letters) and len({*letters}) == len(letters):
        return [known.index(sign) for sign in letters]
    return []


def _told(name: str, tally: Tally, pack: Pack) -> dict[str, Any]:
    return {
        "id": name,
        "title": tally.title,
        "topic": tally.topic,
        "sat": tally.sat,
        "right": tally.right,
        "share_right": round(tally.share, 3),
        "left_open": tally.left_open,
        "unread": tally.unread,
        "unsafe": tally.unsafe,
        "slips": _slips(tally.slips, pack),
    }


def _slips(counted: Counter[str], pack: Pack) -> list[dict[str, Any]]:
    listed = sorted(counted.items(), key=lambda each: (-each[1], each[0]))
    return [{"name": n, "say": str(pack.slips.get(n, n)), "count": count} for n, count in listed]


def _lines(found: Mapping[str, Any]) -> Iterator[str]:
    """The counts as a lecturer reads them, the hardest question first."""
    yield f"{found['title']}: {found['sat']} paper{'s' * (found['sat'] != 1)}."
    if found["left_out"]:
        yield (
            f"Left out, for only seeds and answers are read: {', '.join(found['left_out'])}. "
            "Nothing of a person is kept."
        )
    yield ""
    for one in found["questions"]:
        few = ", which says little" if one["sat"] < FEW else ""
        share = f"{one['right']} of {one['sat']} right ({one['share_right']:.0%}{few})"
        yield f"{share}  {one['title']} [{one['id']}]"
        yield from (f"    {words}" for words in _more(one))
    if found["slips"]:
        yield "\nSlips in all of them:"
        yield from (f"  {each['count']} ×  {each['say']}" for each in found["slips"])


def _more(one: Mapping[str, Any]) -> Iterator[str]:
    counts = {"left_open": "left open", "unread": "could not be read", "unsafe": "chose what hurts"}
    said = [f"{one[key]} {words}" for key, words in counts.items() if one[key]]
    if said:
        yield ", ".join(said)
    yield from (f"{each['count']} ×  {each['say']}" for each in one["slips"])
