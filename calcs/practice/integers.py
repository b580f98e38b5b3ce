"""Whole numbers from a seed, the same in every Python: PCG32, seeded by an FNV-1a hash of a text.

PCG32 is M. E. O'Neill, "PCG: A Family of Simple Fast Space-Efficient Statistically Good Algorithms
for Random Number Generation", HMC-CS-2014-0905, in its form XSH RR 64/32. FNV-1a is RFC 9923.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")

_WORD, _STATE = 2**32, 2**64
_MULTIPLIER = 6364136223846793005
_STREAM = 54  # any odd-numbered one would do: this is that of the published vectors
_OFFSET, _PRIME = 0xCBF29CE484222325, 0x100000001B3  # FNV-1a, 64 bits


def hash_of(text: str) -> int:
    """FNV-1a of a text in UTF-8.

    >>> f"{hash_of('a'):x}", f"{hash_of('foobar'):x}"
    ('af63dc4c8601ec8c', '85944171f73967e8')
    """
    found = _OFFSET
    for byte in text.encode("utf-8"):
        found = ((found ^ byte) * _PRIME) % _STATE
    return found


class Integers:
    """PCG32.

    Args:
        seed: The first state.
        stream: Which of its sequences.

    >>> [f"{Integers(42).word():x}" for _ in range(1)]
    ['a15c02b7']
    """

    def __init__(self, seed: int, stream: int = _STREAM) -> None:
        self._step = (stream << 1 | 1) % _STATE
        self._state = 0
        self.word()
        self._state = (self._state + seed) % _STATE
        self.word()

    def word(self) -> int:
        """The next 32 bits."""
        old = self._state
        self._state = (old * _MULTIPLIER + self._step) % _STATE
        mixed = ((old >> 18 ^ old) >> 27) % _WORD
        turn = old >> 59
        return (mixed >> turn | mixed << (-turn & 31)) % _WORD

    def below(self, count: int) -> int:
        """A number from 0 to `count` - 1, each as likely: what does not divide evenly is left."""
        least = _WORD % count
        while True:
            found = self.word()
            if found >= least:
                return found % count

    def choose(self, items: Sequence[T]) -> T:
        """One of several."""
        return items[self.below(len(items))]

    def shuffled(self, items: Sequence[T]) -> list[T]:
        """All of them in another order."""
        found = list(items)
        for place in range(len(found) - 1, 0, -1):
            other = self.below(place + 1)
            found[place], found[other] = found[other], found[place]
        return found
