"""What an author is told when a file isn't as it must be: where, what was found, what to do."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Problem:
    """One thing to put right, at one place in one file.

    `where` is the place in the words of the file, such as `inputs.elasped`. `found` and
    `expected` are whole sentences; `fix` is an instruction without its full stop.
    """

    file: str
    line: int
    column: int
    where: str
    found: str
    expected: str
    fix: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}"
        heading = f"{place}  {self.where}" if self.where else place
        sentences = " ".join(text for text in (self.found, self.expected) if text)
        return f"{heading}\n    {sentences}\n    Fix: {self.fix}."


class ProblemsFound(Exception):
    """Files that cannot be used as they are. Its text is every problem, ready to print."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = in_order(problems)
        super().__init__(report(self.problems))


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Each problem once, by file and then by place in it."""
    return sorted(set(problems))


def report(problems: Iterable[Problem]) -> str:
    """All problems of a run, then how many there are."""
    ordered = in_order(problems)
    count = "1 problem" if len(ordered) == 1 else f"{len(ordered)} problems"
    return "\n\n".join([*(str(problem) for problem in ordered), f"{count} found."])


def nearest(name: str, names: Iterable[str]) -> str | None:
    """The name that the author most likely meant, or nothing when none is close."""
    close = difflib.get_close_matches(name, list(names), n=1, cutoff=0.6)
    return close[0] if close else None


def listing(names: Iterable[str], most: int = 12) -> str:
    """`a, b, c`, cut short when there are many."""
    shown = list(names)
    more = f" and {len(shown) - most} more" if len(shown) > most else ""
    return ", ".join(shown[:most]) + more if shown else "nothing"


def rename_fix(name: str, names: Iterable[str], otherwise: str) -> str:
    """`rename it to 'x'` where one name is close, else the instruction given."""
    close = nearest(name, names)
    return f"rename it to '{close}'" if close else otherwise
