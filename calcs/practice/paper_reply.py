"""What a page or the command line asks of the papers."""

from __future__ import annotations

import binascii
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from calcs.practice import paper_marks, papers
from calcs.practice.draw import NotDrawn, Question
from calcs.practice.pack import Pack
from calcs.practice.put import drawn, put, why, worked

Papers = Mapping[str, Any]


def reply(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    """Reply to one request about papers.

    Args:
        request: `about`: `papers` lists them. `paper` puts the questions of one, `paper_key` with
            their answers, `paper_marks` marks what was `given` by the id of each question, and
            `paper_file` writes it in a `form` for a platform, with the `edition` in its title.
            These have `paper` and `seed`. `class` gives a seed for each of `count` candidates.
        held: The papers of this edition, by id.
        pack: What they are made from.

    Returns:
        `{"practice": …}`, or `{"refused": […]}`.
    """
    about = str(request["about"])
    try:
        return {"practice": ABOUT[about](request, held, pack)}
    except (papers.NotASeed, papers.NotFilled, NotDrawn, NoPaper, NoForm) as problem:
        message = str(problem)
        return {"refused": [{"field": "paper", "kind": "unknown", "message": message}]}


class NoPaper(Exception):
    """There is none of that name."""


class NoForm(Exception):
    """No paper goes out in that form."""


def _listed(_: Mapping[str, Any], held: Papers, __: Pack) -> list[dict[str, Any]]:
    return [about(name, paper) for name, paper in held.items()]


def about(name: str, paper: Mapping[str, Any]) -> dict[str, Any]:
    """What a paper is, without its questions."""
    return {
        "id": name,
        "title": paper["title"],
        "questions": sum((int(part["questions"]) for part in paper["mix"]), start=0),
        "minutes": int(paper["minutes"]),
        "percent": int(paper["pass"]["percent"]),
        "no_unsafe": paper["pass"].get("no_unsafe") == "yes",
    }


def _of(request: Mapping[str, Any], held: Papers) -> tuple[str, Mapping[str, Any], str]:
    """Id of a paper, the paper, and the seed."""
    name = str(request.get("paper"))
    if name not in held:
        raise NoPaper(f"There is no paper {name[:40]!r}.")
    return name, held[name], papers.seed_of(request.get("seed", "1"))


def _head(name: str, paper: Mapping[str, Any], seed: str, worths: Sequence[int]) -> dict[str, Any]:
    total = sum(worths, start=0)
    needed = papers.marks_to_pass(paper, total)
    return {**about(name, paper), "seed": seed, "of": total, "needed": needed}


def _put(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    name, paper, seed = _of(request, held)
    found = papers.drawn(paper, seed, pack)
    worths = [paper_marks.worth(each, pack) for each in found]
    return {
        **_head(name, paper, seed, worths),
        "asked": [{**put(each), "of": of} for each, of in zip(found, worths, strict=True)],
    }


def _key(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    made = _put(request, held, pack)
    found = {each.id: each for each in papers.drawn(held[made["id"]], made["seed"], pack)}
    return {**made, "asked": [{**each, **key(found[each["id"]], pack)} for each in made["asked"]]}


def key(found: Question, pack: Pack) -> dict[str, Any]:
    """What a tutor marks a question by."""
    right = worked(found, pack)
    return {
        **right,
        "pairs": _pairs(found),
        "marked": [line["name"] for line in paper_marks.marked_lines(right["working"] or ())],
        "unsafe": [one["text"] for one in found.items if one.get("unsafe") == "yes"],
        "why": why(found),
        "read": found.template["read"],
    }


def _pairs(found: Question) -> str:
    """The pairs that an order is marked by, by their numbers in the right order."""
    if found.asks != "order":
        return ""
    order = found.template["order"]
    places = {one["id"]: place for place, one in enumerate(order["steps"], start=1)}
    told = {
        f"{places[each['first']]} before {places[each['then']]}": each.get("unsafe") == "yes"
        for each in order["pairs"]
    }
    unsafe = [pair for pair, is_unsafe in told.items() if is_unsafe]
    said = f"Marked by these pairs alone: {', '.join(told)}."
    return f"{said} Unsafe the other way round: {', '.join(unsafe)}." if unsafe else said


def _marks(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    name, paper, seed = _of(request, held)
    answers = request.get("given")
    given = answers if isinstance(answers, Mapping) else {}
    asked = papers.drawn(paper, seed, pack)
    told = [
        {
            **put(each),
            **drawn(each, solved=True),
            "why": why(each),
            "read": each.template["read"],
            **paper_marks.marked(each, given.get(each.id), pack),
        }
        for each in asked
    ]
    head = _head(name, paper, seed, [each["of"] for each in told])
    marks = sum((each["marks"] for each in told), start=0)
    unsafe = sum((each["unsafe"] for each in told), start=0)
    reached = marks >= head["needed"] and not (unsafe and head["no_unsafe"])
    head |= {"drawn": paper_marks.print_of(asked)}  # for the file that a class hands in
    return {**head, "marks": marks, "unsafe": unsafe, "reached": reached, "asked": told}


def _file(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, str]:
    """A paper as one file, its bytes as base64."""
    # Late: a page takes the writers up where a file is asked for, and not before.
    from calcs.practice.exports import forms  # noqa: PLC0415

    name, paper, seed = _of(request, held)
    form = str(request.get("form"))
    if form not in forms.FORMS:
        raise NoForm(f"There is no form {form[:40]!r}: {', '.join(forms.FORMS)}.")
    ending, write = forms.FORMS[form]
    made = write(forms.drawn(paper, seed, str(request.get("edition", "")), pack))
    base64 = binascii.b2a_base64(made, newline=False).decode("ascii")
    return {"name": f"{name}-{seed}-{form}{ending}", "base64": base64}


def _class(request: Mapping[str, Any], _: Papers, __: Pack) -> dict[str, Any]:
    first = papers.seed_of(request.get("seed", "1"))
    count = str(request.get("count", ""))
    if not count.isdecimal() or not 1 <= int(count) <= papers.MOST:
        raise papers.NotASeed(f"A class has 1 to {papers.MOST} candidates.")
    return {"seed": first, "seeds": papers.class_seeds(first, int(count))}


ABOUT: Mapping[str, Callable[[Mapping[str, Any], Papers, Pack], Any]] = {
    "papers": _listed,
    "paper": _put,
    "paper_key": _key,
    "paper_marks": _marks,
    "paper_file": _file,
    "class": _class,
}
