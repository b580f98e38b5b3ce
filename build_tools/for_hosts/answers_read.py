"""Answers of a class, read from a CSV or a JSON file: seeds and answers, and nothing of a person.

A row is what one candidate handed in: the seed of the paper, then an answer for each question by
its number. All else in the file is left out before anything is looked at.
"""

import csv
import io
import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from calcs.practice import papers

NUMBER = re.compile(r"(?:question|q)?\W*([0-9]{1,3})", re.IGNORECASE)
DELIMITERS = ",;\t"
BYTE_ORDER_MARK = "\ufeff"
MOST = 5_000  # rows: more than any class or year has


class NotRead(Exception):
    """A file that can't be used. Its text says where, what was found and what to do."""


@dataclass(frozen=True)
class Sat:
    """One paper that was handed in.

    Args:
        row: Where it stands in the file, for what is told of it.
        seed: Of its paper.
        answers: What was answered, by the number of the question.
    """

    row: int
    seed: str
    answers: Mapping[int, str]


@dataclass(frozen=True)
class Read:
    """What a file holds: papers, and the names of the columns that were left out."""

    sat: tuple[Sat, ...]
    left_out: tuple[str, ...]


def read(text: str, name: str) -> Read:
    """Read the text of a file.

    Raises:
        NotRead: It is no such file, or a seed in it can't be one.
    """
    text = text.removeprefix(BYTE_ORDER_MARK)
    rows = _of_json(text, name) if text.lstrip()[:1] in {"{", "["} else _of_csv(text, name)
    if not rows:
        raise NotRead(f"{name} holds no answers.\nFix: write a row for each candidate.")
    if len(rows) > MOST:
        raise NotRead(f"{name} holds {len(rows)} rows, and {MOST} are the most.\nFix: split it.")
    keys = dict.fromkeys(str(key) for row in rows for key in row)
    if "seed" not in {key.strip().lower() for key in keys}:
        raise NotRead(
            f"{name} has no column 'seed'.\n"
            "Fix: write the seed of each candidate's paper in a column of that name, from your "
            "sheet of seeds."
        )
    sat = [_sat(row, number, name) for number, row in enumerate(rows, start=1)]
    return Read(tuple(sat), tuple(key for key in keys if key and not _is_read(key)))


def _is_read(key: str) -> bool:
    return key.strip().lower() == "seed" or NUMBER.fullmatch(key.strip()) is not None


def _of_csv(text: str, name: str) -> list[Mapping[str, Any]]:
    head = text.partition("\n")[0]
    delimiter = max(DELIMITERS, key=head.count)
    try:
        rows = [*csv.DictReader(io.StringIO(text), delimiter=delimiter, strict=True)]
    except csv.Error as error:
        raise NotRead(f"{name} can't be read as CSV: {error}.\nFix: save it anew.") from None
    if any(None in row for row in rows):
        raise NotRead(
            f"{name} has a row with more cells than its first row has names.\n"
            "Fix: put quotation marks round an answer that holds a comma."
        )
    return [row for row in rows if any(str(cell or "").strip() for cell in row.values())]


def _of_json(text: str, name: str) -> list[Mapping[str, Any]]:
    try:
        found = json.loads(text)
    except ValueError as error:
        raise NotRead(f"{name} can't be read as JSON: {error}.\nFix: save it anew.") from None
    rows = found.get("sat") if isinstance(found, dict) else found
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise NotRead(
            f"{name} holds no list of papers.\n"
            'Fix: write {"sat": [{"seed": "...", "answers": {"1": "..."}}]}.'
        )
    return [_flat(row) for row in rows]


def _flat(row: Mapping[str, Any]) -> dict[str, Any]:
    """A paper of a JSON file as a row of a CSV file."""
    answers = row.get("answers")
    inner = answers if isinstance(answers, dict) else {}
    return {**{k: v for k, v in row.items() if k != "answers"}, **inner}


def _sat(row: Mapping[str, Any], number: int, name: str) -> Sat:
    cells = {str(key).strip().lower(): _text(cell) for key, cell in row.items() if key}
    try:
        seed = papers.seed_of(cells.get("seed", ""))
    except papers.NotASeed:
        # Not what it says: that may be somebody's name.
        raise NotRead(
            f"{name}, row {number}: what stands under 'seed' is none.\n"
            "A seed has letters, digits and hyphens. It stands for a candidate, so that no name is "
            "needed.\nFix: write the seed of the paper."
        ) from None
    found = {key: NUMBER.fullmatch(key) for key in cells if key != "seed"}
    return Sat(number, seed, {int(n[1]): cells[key] for key, n in found.items() if n})


def _text(cell: Any) -> str:
    if isinstance(cell, Iterable) and not isinstance(cell, str | Mapping):
        return " ".join(map(str, cell))
    return "" if cell is None else str(cell).strip()
