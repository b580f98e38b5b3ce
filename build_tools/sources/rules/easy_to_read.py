"""A step is easy to read: whoever reads it kneels in front of a boiler with a torch in one hand.

A word of the trade is long and no trouble to its reader: "appliance", "combustion", "regulator".
Each one that the glossary explains, where the page links to it, counts as the word "meter" if it
has more than two syllables. Every other long word counts in full, so that a shorter one is found.
No step is let off, and no sentence: whoever adds an exception makes the text worse for all.
"""

import re
from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.reading_ease import ease, syllables_of, words_of

LOOKS_AT = ("procedure", "reference", "question")
EASY = 80
EASY_STEM = 70  # of a question
LONGEST_SENTENCE = 22  # words; two breaths
LONG = 2  # syllables: words of more make a step hard
PLACEHOLDER = re.compile(r"\{[^}]*\}")  # a page shows a short figure there
SENTENCE_ENDS = re.compile(r"(?<=[.!?])\s+")
WORD = re.compile(r"[\w'’./-]+")
NAMES = {"id", "expect", "timer", "reading", "state", "calculator", "gives", "diagram", "page"}
SAID = {"stem", "say", "text", "not", "why"}  # of a question: the rest is names


def check(project: Project) -> Iterator[Problem]:
    """Measure each step, and the sentences of each step and check."""
    whole = [
        (step["do"], f"{step['do'].text} {step['why'].text}")
        for step in project.each("procedure", "steps", ...)
        if step["do"].text and step["why"].text
    ]
    if project.are_whole("reference"):  # else what is explained can't be told
        explained = explained_in(project)
        for act, text in whole:
            yield from _hard(act, text, explained)
    for page in project.nodes("procedure"):
        for part in (page["steps"], page["checks"]):
            for node in part.texts():
                if not NAMES.intersection(node.key_path):
                    yield from _long(node)
    yield from _questions(project)


def explained_in(project: Project) -> re.Pattern[str]:
    """The long words of the glossary's terms, as they may stand in a sentence."""
    names = [term.key for term in project.each("reference", "terms", ...)]
    words = sorted({word for term in names for word in re.findall(r"\w+", term.lower())})
    counts = syllables_of(words)
    long = [word for place, word in enumerate(words) if counts[place] > LONG]
    return re.compile(rf"\b({'|'.join(long)})(?=(s|'s)?\b)" if long else r"(?!)", re.IGNORECASE)


def score(text: str, explained: re.Pattern[str]) -> float:
    """Flesch's reading ease, with what the glossary explains counted as a short word."""
    return ease(explained.sub("meter", PLACEHOLDER.sub("ten", text)))


def _hard(act: Node, text: str, explained: re.Pattern[str]) -> Iterator[Problem]:
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
    yield act.problem(said, expected, f"make its sentences shorter{instead}")


def _questions(project: Project) -> Iterator[Problem]:
    """What a question says. Names of readings make its stem a little harder than a step."""
    for question in project.nodes("question"):
        for node in question.texts():
            if SAID.intersection(node.key_path):
                yield from _long(node)
    if not project.are_whole("reference"):
        return
    explained = explained_in(project)
    for node in project.nodes("question"):
        found = score(node["stem"].text, explained)
        if node["stem"].text and found < EASY_STEM:
            said = f"This stem scores {found:.0f} in reading ease."
            expected = f"A stem scores {EASY_STEM} or more."
            yield node["stem"].problem(said, expected, "make its sentences and words shorter")


def _long(node: Node) -> Iterator[Problem]:
    for sentence in SENTENCE_ENDS.split(node.text):
        count = len(WORD.findall(sentence))
        if count > LONGEST_SENTENCE:
            begins = " ".join(sentence.split()[:4])
            found = f"The sentence '{begins} ...' has {count} words."
            expected = f"A sentence here has {LONGEST_SENTENCE} at most."
            yield node.problem(found, expected, "make two sentences of it")
