"""What a class handed in: all its files, those that can be counted and what is wrong with others.

Whatever is wrong is told in one go, and the others still count. Nothing of a person is kept.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.practice import papers
from calcs.practice.answer_file import MOST, Held, Wrong, held_in, text_of

MOST_FILES = 300


def read(
    files: Sequence[Mapping[str, Any]], held: Mapping[str, Any], paper: str = "", seed: str = ""
) -> dict[str, Any]:
    """Read all files of a class.

    Args:
        files: `name`, `text` and `size` of each.
        held: The papers of this edition, by id.
        paper: Which was sat. Without one, that which most of the files name.
        seed: That of all, or the tutor's, from which each candidate's follows. Empty for any.

    Returns:
        `paper`; `sat`, the papers to count, each with the `file` that it is from; `files`, how
        many were read; `left_out`, how many columns were passed over; `problems`.
    """
    problems: list[dict[str, str]] = []
    found: list[tuple[str, Held]] = []
    texts: dict[str, str] = {}
    for file in files[:MOST_FILES]:
        name = str(file["name"])
        try:
            text = text_of(file)
            if text in texts:
                raise _again(texts[text])
            texts[text] = name
            found.append((name, held_in(text)))
        except Wrong as wrong:
            problems.append(wrong.told(name))
    if len(files) > MOST_FILES:
        rest = f"{len(files)} files"
        many = Wrong(rest, f"at most {MOST_FILES}", "choose fewer; the first were read")
        problems.append(many.told("all files"))
    paper = paper or _named_most([each.paper for _, each in found if each.paper], held)
    sat, told = _fitting(found, held, paper, _seeds(seed))
    return {
        "paper": paper,
        "sat": sat[:MOST],
        "files": len({each["file"] for each in sat}),
        "left_out": sum((each.left_out for _, each in found), start=0),
        "problems": [*problems, *told],
    }


def _named_most(named: Sequence[str], held: Mapping[str, Any]) -> str:
    known = [each for each in held if each in named]
    return max(known, key=named.count, default="")


def _seeds(seed: str) -> frozenset[str]:
    """The seeds that a tutor's stands for: its own, and those of a class."""
    return frozenset({seed, *papers.class_seeds(seed, papers.MOST)}) if seed else frozenset()


def _fitting(
    found: Sequence[tuple[str, Held]], held: Mapping[str, Any], paper: str, seeds: frozenset[str]
) -> tuple[list[dict[str, Any]], list[dict[str, str]]]:
    """Papers that are the one asked for, and what is wrong with the others."""
    sat: list[dict[str, Any]] = []
    problems: list[dict[str, str]] = []
    sittings: dict[str, tuple[str, Any]] = {}
    for name, one in found:
        rows = [{**each, "file": name} for each in one.sat]
        try:
            _must_be(paper, one, held)
            if one.sitting in sittings:
                other, given = sittings[one.sitting]
                raise _again(other) if given == one.sat else _changed(other)
            if one.sitting:
                sittings[one.sitting] = (name, one.sat)
        except Wrong as wrong:
            problems.append(wrong.told(name))
            continue
        problems += [each.told(name) for each in one.wrong]
        for row in rows:
            if seeds and row["seed"] not in seeds:
                problems.append(_other_seed(row).told(name))
            else:
                sat.append(row)
    if len(sat) > MOST:
        many = Wrong(f"{len(sat)} papers", f"at most {MOST}", "choose fewer; the first were read")
        problems.append(many.told("all files"))
    return sat, problems


def _must_be(paper: str, one: Held, held: Mapping[str, Any]) -> None:
    if one.paper and one.paper not in held:
        known = ", ".join(held)
        fix = "open it in the edition in which it was sat"
        raise Wrong(f"the paper '{one.paper[:40]}'", f"a paper of this edition: {known}", fix)
    if one.paper and one.paper != paper:
        fix = f"choose “{held[one.paper]['title']}” to see that one, or leave the file out"
        raise Wrong(_titled(one.paper, held), _titled(paper, held), fix)
    if not paper:
        raise Wrong(
            "a table, which does not say which paper it is of",
            "one of the papers, chosen",
            "choose the paper that was sat",
        )


def _titled(paper: str, held: Mapping[str, Any]) -> str:
    return f"the paper “{held[paper]['title']}”" if paper in held else f"the paper '{paper[:40]}'"


def _other_seed(row: Mapping[str, Any]) -> Wrong:
    expected = "the seed that you typed, or one of the class that follows from it"
    fix = "empty the field of the seed to count papers of any, or leave it out"
    return Wrong(f"the seed '{row['seed']}'", expected, fix, row["where"])


def _again(other: str) -> Wrong:
    found = f"the same as in {other}"
    return Wrong(found, "each paper once", "nothing to do: it is counted once")


def _changed(other: str) -> Wrong:
    found = f"other answers to the very paper that is in {other}, which is counted"
    return Wrong(found, "each paper once", "leave out the one that does not count")
