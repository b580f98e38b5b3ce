"""Work that is done once in a process: one that stands ready to build has done it before the edit.

The work may look at what it is given and at what its module imports at its head, and at nothing
else. When any of those modules changes, what was worked out goes with it: see `own_modules`.
"""

import hashlib
import pickle
from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any, TypeVar

from build_tools.read_yaml import Document

Found = TypeVar("Found")
MOST = 2000  # texts kept: more than the pages of a large handbook, twice


def once(
    work: Callable[[Document], Iterable[Found]],
) -> Callable[[Document], tuple[Found, ...]]:
    """The same work on a document, whose finds are kept with it."""

    @wraps(work)
    def kept(document: Document) -> tuple[Found, ...]:
        if work not in document.kept:
            document.kept[work] = tuple(work(document))
        found: tuple[Found, ...] = document.kept[work]
        return found

    return kept


class Made:
    """Texts that were made, by all that they were made from."""

    def __init__(self) -> None:
        self.texts: dict[bytes, str] = {}

    def of(self, given: Any, make: Callable[[], str]) -> str:
        """The text that is made from `given`: made now, where none was made from equal values."""
        name = digest(given)
        if name not in self.texts:
            if len(self.texts) >= MOST:
                self.texts.clear()
            self.texts[name] = make()
        return self.texts[name]


def digest(given: Any) -> bytes:
    """A short name for exactly these values. Equal ones may have two: then the work is done."""
    return hashlib.sha256(pickle.dumps(given)).digest()
