"""Steps are easy to read: measured by textstat, whose list of spoken words is in a package.

The measure is Flesch's reading ease (R. Flesch, A new readability yardstick, 1948): words to a
sentence and syllables to a word, no more. It suits steps because those are what makes a step slow
to read with a torch in one hand. 60 to 70 is plain English, 80 to 90 is "easy", as talk is.

A word of the trade is long and no trouble to its reader: "appliance", "combustion", "regulator".
Each one that the glossary explains, where the page links to it, counts as the word "meter" if it
has more than two syllables. Every other long word counts in full, so that a shorter one is found.
No step is let off, and no sentence: whoever adds an exception makes the text worse for all.
"""

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
import textstat

from build_tools.project import load, stem_of

EASY = 80
LONGEST_SENTENCE = 22  # words; two breaths
PROJECT = load()
PROCEDURES = {stem_of(each.file): each.value for each in PROJECT.of_kind("procedure")}
PLACEHOLDER = re.compile(r"\{[^}]*\}")  # a page shows a short figure there
SENTENCE_ENDS = re.compile(r"(?<=[.!?])\s+")
WORD = re.compile(r"[\w'’./-]+")


@cache  # its word list takes a second to read, which a worker without these tests need not wait
def explained() -> re.Pattern[str]:
    """The long words of the glossary's terms, as they may stand in a sentence."""
    terms = [term for page in PROJECT.of_kind("reference") for term in page.value.get("terms", {})]
    words = {word.lower() for term in terms for word in re.findall(r"\w+", term)}
    long = sorted(word for word in words if textstat.syllable_count(word) > 2)
    assert {"appliance", "combustion", "regulator"} <= set(long)
    return re.compile(rf"\b({'|'.join(long)})(?=(s|'s)?\b)", re.IGNORECASE)


def ease(text: str) -> float:
    """Flesch's reading ease, with what the glossary explains counted as a short word."""
    return textstat.flesch_reading_ease(explained().sub("meter", PLACEHOLDER.sub("ten", text)))


def texts(value: Any) -> Iterator[str]:
    """Every text of a step."""
    if isinstance(value, str):
        yield value
    for inner in value.values() if isinstance(value, dict) else ():
        yield from texts(inner)
    for inner in value if isinstance(value, list) else ():
        yield from texts(inner)


def test_the_library_measures_as_the_formula_was_published() -> None:
    # By hand: 206.835 - 1.015 x 6 words to a sentence - 84.6 x 6/6 syllables to a word.
    assert textstat.flesch_reading_ease("The cat sat on the mat.") == pytest.approx(116.145)
    # Per-mis-sion is sel-dom re-fused la-ter: five words, ten syllables.
    assert textstat.flesch_reading_ease("Permission is seldom refused later.") == pytest.approx(
        206.835 - 1.015 * 5 - 84.6 * 10 / 5
    )


@pytest.mark.parametrize("stem", PROCEDURES)
def test_each_step_is_easy_to_read(stem: str) -> None:
    found = {
        step["id"]: round(score, 1)
        for step in PROCEDURES[stem]["steps"]
        if (score := ease(f"{step['do']} {step['why']}")) < EASY
    }
    assert found == {}, "shorten a sentence, or take a shorter word"


@pytest.mark.parametrize("stem", PROCEDURES)
def test_no_sentence_of_a_step_or_a_check_is_long(stem: str) -> None:
    parts = [*PROCEDURES[stem]["steps"], *PROCEDURES[stem].get("checks", [])]
    sentences = [each for text in texts(parts) for each in SENTENCE_ENDS.split(text)]
    assert [each for each in sentences if len(WORD.findall(each)) > LONGEST_SENTENCE] == []
