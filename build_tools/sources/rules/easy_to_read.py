"""A step is easy to read: whoever reads it kneels in front of a boiler with a torch in one hand.

A word of the trade is long and no trouble to its reader: "appliance", "combustion", "regulator".
Each one that the glossary explains, where the page links to it, counts as the word "meter" if it
has more than two syllables. Every other long word counts in full, so that a shorter one is found.
No step is let off, and no sentence: whoever adds an exception makes the text worse for all.
"""

import re
from collections.abc import Iterator
from typing import Any

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.reading_ease import ease, look_up, syllables_of, words_of
from build_tools.sources.rule import Rule

EASY = 80
LONGEST_SENTENCE = 22  # words; two breaths
LONG = 2  # syllables: words of more make a step hard
PLACEHOLDER = re.compile(r"\{[^}]*\}")  # a page shows a short figure there
SENTENCE_ENDS = re.compile(r"(?<=[.!?])\s+")
WORD = re.compile(r"[\w'’./-]+")
NAMES = {"id", "expect", "timer", "reading", "state", "calculator", "gives", "diagram", "page"}


def check(project: Project) -> Iterator[Problem]:
    """Measure each step, and the sentences of each step and check."""
    steps = [each for document in project.of_kind("procedure") for each in _steps(document)]
    look_up(word for _, _, text in steps for word in words_of(PLACEHOLDER.sub("ten", text)))
    if project.are_whole("reference"):  # else what is explained can't be told
        explained = explained_in(project)
        for document, key_path, text in steps:
            yield from _hard(document, key_path, text, explained)
    for document in project.of_kind("procedure"):
        for key_path, text in document.texts():
            if key_path[0] in {"steps", "checks"} and not NAMES.intersection(key_path):
                yield from _long(document, key_path, text)


def _steps(document: Document) -> Iterator[tuple[Document, KeyPath, str]]:
    steps = document.value.get("steps")
    for number, step in enumerate(steps if isinstance(steps, list) else ()):
        do, why = get_path(step, "do"), get_path(step, "why")
        if isinstance(do, str) and isinstance(why, str) and do and why:
            yield document, ("steps", number, "do"), f"{do} {why}"


def explained_in(project: Project) -> re.Pattern[str]:
    """The long words of the glossary's terms, as they may stand in a sentence."""
    terms: list[Any] = [page.value.get("terms") for page in project.of_kind("reference")]
    names = [term for each in terms if isinstance(each, dict) for term in each]
    words = sorted({word for term in names for word in re.findall(r"\w+", term.lower())})
    counts = syllables_of(words)
    long = [word for place, word in enumerate(words) if counts[place] > LONG]
    return re.compile(rf"\b({'|'.join(long)})(?=(s|'s)?\b)" if long else r"(?!)", re.IGNORECASE)


def score(text: str, explained: re.Pattern[str]) -> float:
    """Flesch's reading ease, with what the glossary explains counted as a short word."""
    return ease(explained.sub("meter", PLACEHOLDER.sub("ten", text)))


def _hard(
    document: Document, key_path: KeyPath, text: str, explained: re.Pattern[str]
) -> Iterator[Problem]:
    found = score(text, explained)
    if found >= EASY:
        return
    words = [word for word in words_of(PLACEHOLDER.sub("ten", text)) if not explained.search(word)]
    counts = syllables_of(words)
    long = {word: counts[place] for place, word in enumerate(words) if counts[place] > LONG}
    worst = sorted(long, key=lambda word: -long[word])[:4]
    instead = f", or take a shorter word for: {', '.join(worst)}" if worst else ""
    said = f"With its 'why' this step scores {found:.0f} in reading ease."
    expected = f"A step scores {EASY} or more."
    yield document.problem(key_path, said, expected, f"make its sentences shorter{instead}")


def _long(document: Document, key_path: KeyPath, text: str) -> Iterator[Problem]:
    for sentence in SENTENCE_ENDS.split(text):
        count = len(WORD.findall(sentence))
        if count > LONGEST_SENTENCE:
            begins = " ".join(sentence.split()[:4])
            found = f"The sentence '{begins} ...' has {count} words."
            expected = f"A sentence here has {LONGEST_SENTENCE} at most."
            yield document.problem(key_path, found, expected, "make two sentences of it")


RULE = Rule("easy-to-read", "Steps are easy to read, and no sentence in them is long.", check)
