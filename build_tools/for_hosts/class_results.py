"""The command `results`: how hard each question of a paper was, and which slips were made.

`calcs/practice/class_count.py` counts: the page of a class's results asks it too, and tells the
same. Only counts are kept: what is told says nothing of anybody.
"""

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from build_tools.for_hosts.packed import packed
from build_tools.sources import overlays
from build_tools.sources.load_project import load
from build_tools.sources.problems import rename_fix
from calcs.practice import class_count, class_told, handed_in
from calcs.practice.answer_file import LARGEST
from calcs.practice.pack import Pack


def main(
    paper: str, file: Sequence[Path], overlay: Sequence[Path] = (), *, json: bool = False
) -> int:
    """Tell how a class did. Exit status 1 where something could not be counted."""
    pack, papers = packed(load(layers=overlays.read(overlay)))
    if paper not in papers:
        fix = rename_fix(paper, papers, f"name one of: {', '.join(sorted(papers))}")
        print(f"There is no paper '{paper}'.\nFix: {fix}.", file=sys.stderr)
        return 1
    found, problems = results(paper, [_read(each) for each in file], pack, papers)
    if found["sat"]:
        print(_as_json(found) if json else "\n".join(_lines(found)))
    for problem in problems:
        print(problem_text(problem), file=sys.stderr)
    return 1 if problems else 0


def _as_json(found: Mapping[str, Any]) -> str:
    return json.dumps(found, ensure_ascii=False, indent=1)


def _read(file: Path) -> dict[str, Any]:
    """A file as the page reads one: no more of it than there may be."""
    size = file.stat().st_size
    with file.open("rb") as opened:
        text = opened.read(LARGEST + 1).decode("utf-8", errors="replace")
    return {"name": file.name, "size": size, "text": text}


def results(
    paper: str, files: Sequence[Mapping[str, Any]], pack: Pack, papers: Mapping[str, Any]
) -> tuple[dict[str, Any], list[dict[str, str]]]:
    """The counts of a class, and what could not be counted.

    Args:
        paper: Its id.
        files: `name`, `size` and `text` of each.
        pack: All questions.
        papers: All papers, by id.
    """
    given = handed_in.read(files, papers, paper)
    counted, problems = class_count.count(given["sat"], papers[paper], pack)
    found = class_told.told(paper, papers[paper], counted, pack)
    return {**found, "left_out": given["left_out"]}, [*given["problems"], *problems]


def problem_text(problem: Mapping[str, str]) -> str:
    """What is wrong with a file, in the project's form."""
    where = f", {problem['where']}" if problem["where"] else ""
    said = f"found {problem['found']}, expected {problem['expected']}"
    return f"{problem['file']}{where}: {said}.\nFix: {problem['fix']}."


def _lines(found: Mapping[str, Any]) -> Iterator[str]:
    """The counts as a lecturer reads them, the hardest question first."""
    yield f"{found['title']}: {found['sat']} paper{'s' * (found['sat'] != 1)}."
    barred = " and no unsafe choice" if found["no_unsafe"] else ""
    reached = f"{found['reached']} reached {found['percent']} %{barred}"
    yield f"{reached}. {found['unsafe']} chose what hurts."
    if found["left_out"]:
        of = "1 column" if found["left_out"] == 1 else f"{found['left_out']} columns"
        yield f"Left out: {of}, for only seeds and answers are read. Nothing of a person is kept."
    yield ""
    for one in found["questions"]:
        number = f"{one['number']}. " if one["number"] else ""
        yield f"{_share(one, found['few'])}  {number}{one['title']} [{one['id']}]"
        yield from (f"    {words}" for words in _more(one))
    if found["slips"]:
        yield "\nSlips in all of them:"
        yield from (f"  {each['count']} ×  {each['say']}" for each in found["slips"])
    yield "\nTopics, the weakest first:"
    yield from (f"  {_share(each, found['few'])}  {each['title']}" for each in found["topics"])
    if found["outcomes"]:
        yield "\nOutcomes, the weakest first:"
        for each in found["outcomes"]:
            yield f"  {_share(each, found['few'])}  {each['host']} {each['code']}: {each['says']}"


def _share(one: Mapping[str, Any], least: int) -> str:
    few = ", which says little" if one["sat"] < least else ""
    return f"{one['right']} of {one['sat']} right ({one['right'] / one['sat']:.0%}{few})"


def _more(one: Mapping[str, Any]) -> Iterator[str]:
    counts = {"left_open": "left open", "unread": "could not be read", "unsafe": "chose what hurts"}
    said = [f"{one[key]} {words}" for key, words in counts.items() if one[key]]
    if said:
        yield ", ".join(said)
    for each in (*one["slips"], *one["instead"]):
        yield f"{each['count']} ×  {each['say']}"
