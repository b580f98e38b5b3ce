"""One file of answers to a paper: what one learner saved, or a table of a whole class.

A table is CSV with a column `seed` and one for each question by its number, or the same as JSON.
All else in a file is left out before anything is looked at.
"""

from __future__ import annotations

import json
import re
from _csv import Error, reader  # the module `csv` itself is not in the browser's Python
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from calcs.practice import papers

FORMAT = "gas-commissioning-paper-answers"
VERSION = 1
NUMBER = re.compile(r"(?:question|q)?\W*([0-9]{1,3})", re.IGNORECASE)
DELIMITERS = ",;\t"
BYTE_ORDER_MARK = "\ufeff"
NO_SIGN = "\ufffd"  # what stands for bytes that are not UTF-8
ARCHIVE = "PK\x03\x04"
NOUGHT = "\x00"
LARGEST = 2_000_000  # letters or bytes: a learner's file has some thousands
MOST = 5_000  # papers: more than any class or year has
LONGEST = 200  # letters of an answer that are read
DEEPEST = 20  # lists and groups inside one another
SITTING = re.compile(r"[a-z0-9]{6,40}")
NESTED = re.compile(r'"(?:[^"\\]|\\.)*"|[\[{]|[\]}]', re.DOTALL)
LINE = re.compile(r"[^\n]*\n|[^\n]+")
ANOTHER = "leave it out, or save it anew"


class Wrong(Exception):
    """A file or a row that can't be used.

    Args:
        found: What is there.
        expected: What would do.
        fix: What to do.
        where: In the file, as `line 3`.
    """

    def __init__(self, found: str, expected: str, fix: str, where: str = "") -> None:
        super().__init__(found)
        self.found, self.expected, self.fix, self.where = found, expected, fix, where

    def told(self, file: str) -> dict[str, str]:
        """The same as a page and the command line tell it."""
        of = {"found": self.found, "expected": self.expected, "fix": self.fix}
        return {"file": file, "where": self.where, **of}


class Held(NamedTuple):
    """What one file holds.

    Args:
        sat: Each paper: `where` it stands, `seed`, and `answers` by number or `given` by id of a
            question.
        paper: Which it is; empty where the file does not say.
        sitting: By which it is known again; empty in a table.
        left_out: How many columns were passed over.
        wrong: What is wrong with others of its papers.
    """

    sat: list[dict[str, Any]]
    paper: str = ""
    sitting: str = ""
    left_out: int = 0
    wrong: Sequence[Wrong] = ()


def text_of(file: Mapping[str, Any]) -> str:
    """The text of a file, by its `text` and `size`.

    Raises:
        Wrong: It is too large, or holds none.
    """
    text = str(file["text"]).removeprefix(BYTE_ORDER_MARK)
    size = max(int(file.get("size", 0)), len(text))
    if size > LARGEST:
        found, most = (f"{each / 1e6:.1f} MB" for each in (size, LARGEST))
        raise Wrong(found, f"at most {most}: a learner's file has some kB", "leave it out")
    if text.startswith(ARCHIVE):
        raise Wrong("files packed in one", "JSON or CSV", "unpack it, and choose what is in it")
    if NOUGHT in text:
        raise Wrong("no text", "JSON or CSV", ANOTHER)
    if NO_SIGN in text:
        raise Wrong("signs that are not UTF-8", "JSON or CSV in UTF-8", "save it as UTF-8")
    if not text.strip():
        raise Wrong("nothing in it", "answers", ANOTHER)
    return text


def held_in(text: str) -> Held:
    """What the text of a file holds.

    Raises:
        Wrong: It is no such file.
    """
    is_json = text.lstrip()[:1] in {"{", "["}
    if not is_json:
        return _table(_of_csv(text), "line", first=2)  # as a spreadsheet numbers them
    found = _of_json(text)
    if isinstance(found, dict) and "format" in found:
        return _of_learner(found)
    rows = found.get("sat") if isinstance(found, dict) else found
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise Wrong(
            "JSON that holds no papers",
            'a file that a learner saved, or {"sat": [{"seed": "…", "answers": {"1": "…"}}]}',
            ANOTHER,
        )
    return _table([_flat(row) for row in rows], "paper", first=1)


def _of_json(text: str) -> Any:
    depth = 0
    for sign in NESTED.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(sign[0], 0)
        if depth > DEEPEST:
            found = f"lists and groups more than {DEEPEST} deep inside one another"
            raise Wrong(found, "a file that a learner saved", ANOTHER)
    try:
        found = json.loads(text)
        json.dumps(found, ensure_ascii=False, allow_nan=False).encode()  # so it can go on as JSON
    except ValueError as error:
        fix = "have the whole file saved and sent anew"
        raise Wrong(f"JSON that breaks off or is damaged ({error})", "whole JSON", fix) from None
    return found


def _of_learner(found: Mapping[str, Any]) -> Held:
    if found["format"] != FORMAT:
        fix = "leave it out: choose what learners saved after they handed a paper in"
        raise Wrong("a file of another page", "answers to a paper", fix)
    if found.get("version") != VERSION:
        fix = "read it in the newest edition of the handbook"
        raise Wrong(f"a file in form {str(found.get('version'))[:10]}", f"form {VERSION}", fix)
    given, sitting = found.get("given"), str(found.get("sitting"))
    if not isinstance(given, dict) or not SITTING.fullmatch(sitting):
        raise Wrong("a file that was changed by hand", "it as the page saved it", ANOTHER)
    one = {
        "where": "",
        "seed": _seed(found.get("seed"), ""),
        "given": given,
        "drawn": str(found.get("drawn")),
        "edition": str(found.get("edition"))[:LONGEST],
    }
    return Held([one], str(found.get("paper")), sitting)


def _of_csv(text: str) -> list[Mapping[str, Any]]:
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    head = text.partition("\n")[0]
    delimiter = max(DELIMITERS, key=head.count)
    try:
        rows = [*reader(LINE.findall(text), delimiter=delimiter, strict=True)]
    except Error as error:
        raise Wrong(f"a table that can't be read ({error})", "CSV", "save it anew") from None
    names = rows[0]
    if any(len(row) > len(names) for row in rows):
        raise Wrong(
            "a row with more cells than its first row has names",
            "a name for each",
            "put quotation marks round an answer that holds a comma",
        )
    return [dict(zip(names, row, strict=False)) for row in rows[1:]]


def _flat(row: Mapping[str, Any]) -> dict[str, Any]:
    """A paper of a JSON file as a row of a CSV file."""
    answers = row.get("answers")
    inner = answers if isinstance(answers, dict) else {}
    return {**{k: v for k, v in row.items() if k != "answers"}, **inner}


def _table(rows: Sequence[Mapping[str, Any]], what: str, first: int) -> Held:
    if not rows:
        raise _empty()
    if len(rows) > MOST:
        raise Wrong(f"{len(rows)} rows", f"at most {MOST}", "split it")
    keys = dict.fromkeys(str(key) for row in rows for key in row)
    if "seed" not in {key.strip().lower() for key in keys}:
        raise Wrong(
            "no column 'seed'",
            "a column of that name, with the seed of each candidate's paper",
            "fill it in from your sheet of seeds",
        )
    sat: list[dict[str, Any]] = []
    wrong: list[Wrong] = []
    for number, row in enumerate(rows, start=first):
        where = f"{what} {number}"
        if any(str(cell or "").strip() for cell in row.values()):
            try:
                sat.append(_row(row, where))
            except Wrong as told:
                wrong.append(told)
    if not sat and not wrong:
        raise _empty()
    return Held(sat, wrong=wrong, left_out=len([key for key in keys if key and not _is_read(key)]))


def _empty() -> Wrong:
    return Wrong("no answers", "a row for each candidate", "fill it in")


def _is_read(key: str) -> bool:
    return key.strip().lower() == "seed" or NUMBER.fullmatch(key.strip()) is not None


def _row(row: Mapping[str, Any], where: str) -> dict[str, Any]:
    cells = {str(key).strip().lower(): _cell(cell) for key, cell in row.items() if key}
    seed = _seed(cells.get("seed", ""), where)
    return {"where": where, "seed": seed, "answers": dict(_numbered(cells))}


def _numbered(cells: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    for key, text in cells.items():
        number = NUMBER.fullmatch(key) if key != "seed" else None
        if number:
            yield str(int(number[1])), text


def _seed(written: Any, where: str) -> str:
    try:
        return papers.seed_of(written)
    except papers.NotASeed:
        # Not what it says: that may be somebody's name.
        raise Wrong(
            "something under 'seed' that is none",
            "letters, digits and hyphens, which stand for a candidate instead of a name",
            "write the seed of the paper",
            where,
        ) from None


def _cell(cell: Any) -> str:
    if isinstance(cell, list | tuple):
        return " ".join(map(str, cell))[:LONGEST]
    return "" if cell is None else str(cell).strip()[:LONGEST]
