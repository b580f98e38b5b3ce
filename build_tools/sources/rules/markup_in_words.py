"""Words are plain text: markup would be shown to the reader as it stands."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of

LOOKS_AT = "each file"

TAG = "an HTML tag"
FOLDERS = ("content/", "data/", "overlays/")
HOST_WORDS = {"overlay", "words_of", "outcomes"}  # kinds of file that are words of a host
MARKS = {
    TAG: re.compile(r"</?[A-Za-z][^<>{}]*>|<!--"),
    "an HTML entity": re.compile(r"&(?:#\d+|#[xX][0-9A-Fa-f]+|[A-Za-z][A-Za-z0-9]{1,15});"),
    "a Markdown mark": re.compile(
        r"\*\*|`|~~|(?<!\w)__(?=\w)|(?<=\w)__(?!\w)|(?<![\w*])\*(?=[^\W\d])[^*]*\w\*(?!\w)"
        r"|\[[^\]]+\]\([^)]*\)|^#{1,6} |^[-*+] |^> "
    ),
    "an escape": re.compile(r"\\[nt\"']|\\u[0-9A-Fa-f]{4}"),
}
# Parts of data/ that are words. The rest are figures, units and names.
WORDS = {"checked_by", "title", "label", "meaning", "note", "where", "edition", "publisher"}
EXPECTED = "Words are shown as they stand: a page has no other markup than its layout."
FIX = "delete it. A sign such as ° or – is typed as itself"


def check(project: Project) -> Iterator[Problem]:
    """Look for marks in all that a reader reads."""
    for node in project.texts(*FOLDERS):
        place = node.document.place
        is_words = place.startswith("content/") or kind_of(place) in HOST_WORDS
        is_words = is_words or WORDS.intersection(node.key_path[-1:])
        for what, mark in MARKS.items():
            found = mark.search(node.text) if is_words or what == TAG else None
            if found:
                said = f"Here is {what}: {found[0].strip()[:40]}"
                yield node.problem(f"{said}.", EXPECTED, FIX)
                break
