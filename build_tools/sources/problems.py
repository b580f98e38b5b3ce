"""What an author is told when a file isn't as it must be: where, what was found, what to do."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import takewhile

FIRST = "First put these right. What follows may come from them."
THEN = "Then these, as far as they are still there."
REFUSAL, ADVICE = "refusal", "advice"  # how much a problem weighs: nothing is built over a refusal


@dataclass(frozen=True, order=True)
class Problem:
    """One thing to put right, at one place in one file.

    `where` is the place in the words of the file, such as `inputs.elasped`. `found` and
    `expected` are whole sentences; `fix` is an instruction without its full stop. Where it stands
    against the whole of a file, line and column are 1.
    """

    file: str
    line: int
    column: int
    where: str
    found: str
    expected: str
    fix: str
    is_cause: bool = field(default=False, compare=False)  # others may come from it
    severity: str = field(default=REFUSAL, compare=False)
    rule: str = field(default="", compare=False)  # the name of what found it

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
    """Each problem once: what others may come from first, then by file and by place in it."""
    return sorted(set(problems), key=lambda problem: (not problem.is_cause, problem))


def report(problems: Iterable[Problem]) -> str:
    """All problems of a run, then how many there are."""
    ordered = in_order(problems)
    causes = [str(problem) for problem in ordered if problem.is_cause]
    others = [str(problem) for problem in ordered if not problem.is_cause]
    if causes and others:
        causes, others = [FIRST, *causes], [THEN, *others]
    count = "1 problem" if len(ordered) == 1 else f"{len(ordered)} problems"
    return "\n\n".join([*causes, *others, f"{count} found."])


def nearest(name: str, names: Iterable[str]) -> str | None:
    """The name that the author most likely meant, or nothing when none is close."""
    close = difflib.get_close_matches(name, list(names), n=1, cutoff=0.6) if name else []
    return close[0] if close else None


def slip_of(name: str, names: Iterable[str]) -> str | None:
    """The one name that differs from this by one keystroke, or nothing.

    For names that stand for figures: `..._max` is close to `..._min`, and no slip of it.
    """
    close = difflib.get_close_matches(name, list(names), n=3, cutoff=0.6) if name else []
    return next((each for each in close if _is_one_keystroke_off(name, each)), None)


def _is_one_keystroke_off(name: str, other: str) -> bool:
    """Whether one letter was left out, put in or taken for another, or two were changed over."""
    alike = len([*takewhile(lambda pair: pair[0] == pair[1], zip(name, other, strict=False))])
    one, two = name[alike:], other[alike:]
    is_letter = one[1:] == two or one == two[1:] or one[1:] == two[1:]
    return name != other and (is_letter or (one[:2] == two[1::-1] and one[2:] == two[2:]))


def listing(names: Iterable[str], most: int = 12) -> str:
    """`a, b, c`, cut short when there are many."""
    shown = list(names)
    more = f" and {len(shown) - most} more" if len(shown) > most else ""
    return ", ".join(shown[:most]) + more if shown else "nothing"


def rename_fix(name: str, names: Iterable[str], otherwise: str) -> str:
    """`rename it to 'x'` where one name is close, else the instruction given."""
    close = nearest(name, names)
    return f"rename it to '{close}'" if close else otherwise
