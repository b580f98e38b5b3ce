"""How the terms of the glossary are found in words."""

import re
from collections.abc import Iterable


def any_term(terms: Iterable[str]) -> re.Pattern[str]:
    """Finds any of the terms as whole words, one or many of it, the longest first.

    A term with a capital is a name and is found as it is written. Any other may start a sentence.

    >>> any_term(["flue", "flue gas", "LPG"]).findall("Flues, flue gases, lpg and refluence")
    ['Flues', 'flue gases']
    """
    by_letter: dict[str, list[str]] = {}  # each word is tried against those of its letter alone
    for term in sorted(terms, key=lambda term: (-len(term), term)):
        by_letter.setdefault(term[0].lower(), []).append(_spelled(term))
    spelled = "|".join(f"(?:{'|'.join(each)})" for each in by_letter.values())
    return re.compile(rf"(?<![\w-])(?:{spelled})(?:e?s)?(?![\w-])")


def _spelled(term: str) -> str:
    if term != term.lower():
        return re.escape(term)
    return f"[{term[0].upper()}{term[0]}]{re.escape(term[1:])}" if term[0].isalpha() else term
