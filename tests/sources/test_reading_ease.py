"""Reading ease as the rule `easy-to-read` measures it: compared with textstat, a library.

What the rule asks of a step stands in that rule's file, and `tests/data/test_data.py` holds every
step to it.
"""

import pytest
import textstat

from build_tools.sources.project import stem_of
from build_tools.sources.reading_ease import ease, syllables_of
from build_tools.sources.rules.easy_to_read import PLACEHOLDER, explained_in
from tests.project import project

PROJECT = project()
STEPS = {
    stem_of(each.file): [
        PLACEHOLDER.sub("ten", f"{step['do']} {step['why']}") for step in each.value["steps"]
    ]
    for each in PROJECT.of_kind("procedure")
}
# By hand: 206.835 - 1.015 x words to a sentence - 84.6 x syllables to a word.
# "The cat sat on the mat.": six words, six syllables. Per-mis-sion is sel-dom re-fused la-ter: five
# words, ten syllables.
BY_HAND = [
    ("The cat sat on the mat.", 206.835 - 1.015 * 6 - 84.6),
    ("Permission is seldom refused later.", 206.835 - 1.015 * 5 - 84.6 * 10 / 5),
]


@pytest.mark.parametrize(("text", "expected"), BY_HAND)
def test_the_measure_is_the_one_that_was_published(text: str, expected: float) -> None:
    assert ease(text) == pytest.approx(expected)
    assert textstat.flesch_reading_ease(text) == pytest.approx(expected)


@pytest.mark.parametrize("stem", STEPS)
def test_a_step_scores_what_the_library_gives_it(stem: str) -> None:
    for text in STEPS[stem]:
        assert ease(text) == pytest.approx(textstat.flesch_reading_ease(text)), text


def test_a_word_that_no_dictionary_has_is_hyphenated() -> None:
    words = ["relightened", "gasworkings"]
    expected = [textstat.syllable_count(word) for word in words]
    assert list(syllables_of(words).values()) == expected


def test_the_glossary_explains_the_long_words_of_the_trade() -> None:
    explained = explained_in(PROJECT)
    for word in ("appliance", "combustion", "regulators"):
        assert explained.search(word)
