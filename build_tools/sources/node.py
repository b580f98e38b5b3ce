"""One place of one file, whatever its author wrote there, and what hangs below it."""

from collections.abc import Iterator
from dataclasses import dataclass
from types import EllipsisType
from typing import Any, Self

from build_tools.sources.problems import Problem
from build_tools.sources.read_yaml import Document, KeyPath


@dataclass(slots=True)  # and not frozen: many thousands are made, in half the time so
class Node:
    """A value of a file with the path to it. What is not there has the value None.

    Nothing here minds what kind of value it is: of a text there are no items, of a list no keys. So
    a rule says what it looks at, and what a half-written file has in its place is passed over.
    """

    document: Document
    key_path: KeyPath
    value: Any

    def __getitem__(self, key: str | int) -> Self:
        try:
            value = self.value[key]
        except (KeyError, IndexError, TypeError):
            value = None
        return self._at((*self.key_path, key), value)

    def _at(self, key_path: KeyPath, value: Any) -> Self:
        """Another place of the same file."""
        return type(self)(self.document, key_path, value)

    @property
    def whole(self) -> Self:
        """All of the file."""
        return self._at((), self.document.value)

    @property
    def text(self) -> str:
        """The text here; empty where there is none."""
        return self.value if isinstance(self.value, str) else ""

    @property
    def key(self) -> str:
        """The last key of the path."""
        return str(self.key_path[-1]) if self.key_path else ""

    @property
    def is_mapping(self) -> bool:
        """Whether keys may stand here, though it may have none."""
        return isinstance(self.value, dict)

    @property
    def names(self) -> list[str]:
        """Keys of a mapping."""
        return list(self.value) if self.is_mapping else []

    def __contains__(self, key: str) -> bool:
        """Whether a mapping has the key, whatever stands there."""
        return self.is_mapping and key in self.value

    def items(self) -> list[Self]:
        """Items of a list."""
        listed = self.value if isinstance(self.value, list) else []
        return [self._at((*self.key_path, place), each) for place, each in enumerate(listed)]

    def parts(self) -> list[Self]:
        """What stands one level below: values of a mapping, items of a list."""
        return [self[key] for key in self.names] or self.items()

    def each(self, *key_path: str | int | EllipsisType) -> Iterator[Self]:
        """Every place that is there at the end of a path; `...` in it stands for each part."""
        if not key_path:
            yield from () if self.value is None else (self,)
            return
        first, *rest = key_path
        for part in self.parts() if isinstance(first, EllipsisType) else (self[first],):
            yield from part.each(*rest)

    def below(self) -> Iterator[Self]:
        """This and everything below it."""
        return (self._at(key_path, value) for key_path, value in self._below())

    def texts(self) -> Iterator[Self]:
        """Every text here and below."""
        places = self._below()
        return (self._at(key_path, value) for key_path, value in places if isinstance(value, str))

    def _below(self) -> Iterator[tuple[KeyPath, Any]]:
        """The same without a node for each: most are passed over, and nodes take the time."""
        waiting = [(self.key_path, self.value)]
        while waiting:
            key_path, value = place = waiting.pop()
            yield place
            if isinstance(value, dict):
                waiting += [((*key_path, key), each) for key, each in reversed(value.items())]
            elif isinstance(value, list):
                last = len(value) - 1
                behind = enumerate(reversed(value))
                waiting += [((*key_path, last - number), each) for number, each in behind]

    def problem(self, found: str, expected: str, fix: str, *, key: bool = False) -> Problem:
        """A problem here, or at the key of what is here."""
        return self.document.problem(self.key_path, found, expected, fix, key=key)
