"""The command `new`: write the files of a page or a question, so that nobody starts blank.

A calculator is left with blanks, because nothing true can stand in for a formula's words and proof.
The others pass `check` as they are written.
"""

import difflib
import keyword
import re
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path

from build_tools.setup.paths import ROOT
from build_tools.sources.overlays import SETTINGS
from build_tools.sources.read_yaml import read_file

TEMPLATES = Path(__file__).parent / "new_files"

# Each kind: its files by template, with what is still to be done in each.
FILES = {
    "calculator": {
        "calculator.py": ("calcs/calculators/{stem}.py", "its formula, inputs and answers"),
        "calculator.yaml": ("content/calculators/{stem}.yaml", "its words, all of them blank"),
        "table.yaml": ("tests/tables/{stem}.yaml", "four rows of proof, three of them blank"),
    },
    "procedure": {
        "procedure.yaml": ("content/procedures/{stem}.yaml", "every part, as true of any job"),
    },
    "page": {"page.yaml": ("content/reference/{stem}.yaml", "a page to look things up in")},
    "question": {
        "question.yaml": ("content/questions/{stem}.yaml", "a question that can be asked")
    },
    "paper": {"paper.yaml": ("content/papers/{stem}.yaml", "a paper that can be sat")},
}
# Where a host's own stand in the folder of its overlay.
IN_OVERLAY = {
    "content/procedures/": "pages/procedures/",
    "content/reference/": "pages/reference/",
    "content/questions/": "questions/",
    "content/papers/": "papers/",
}
TRY = "# Try it: .venv/bin/python -m calcs practice "  # which answers by the handbook alone
# Nothing lists a page by hand. What a page names that is not there yet goes into these.
READINGS = (
    ("data/visit_record.yaml", "a reading that the record has not"),
    ("data/scenario/visit.yaml", "its value in the invented visit"),
)
WHERE_NEEDED = {
    "calculator": (
        ("data/sources.yaml", "a document that it cites"),
        ("data/limits/, data/tables/", "a figure or table that its formula looks up in `ref`"),
        *READINGS,
        ("tests/tables/libraries.py", "a library that a row asks"),
    ),
    "procedure": (
        ("data/sources.yaml", "a document that it cites"),
        ("data/limits/", "a figure that a step expects or times by"),
        *READINGS,
        ("data/instruments.yaml", "an instrument that it names"),
    ),
    "page": (("data/limits/, data/tables/", "a figure or table that it shows"),),
    "paper": (("content/questions/", "a question that it asks for"),),
    "question": (
        ("content/_slips.yaml", "what somebody did who made a slip that has no words yet"),
    ),
}
FOLDERS = {"calculator": "calculators", "procedure": "procedures", "page": "reference"}
USAGE = f"Use: python3 build_tools/start.py new {'|'.join(FILES)} STEM [--overlay FOLDER]"


class NotWrittenError(Exception):
    """Nothing was written. Its text says why and what to do."""


def main(words: list[str], overlay: Path | None = None) -> int:
    """Write the files that the command line asks for, into the handbook or into an overlay."""
    try:
        made = write(words, ROOT) if overlay is None else into_overlay(words, overlay)
    except NotWrittenError as refusal:
        print(refusal, file=sys.stderr)
        return 2
    if overlay is None:
        print(report(words[0], words[1], made))
    else:
        (what,) = (what for _, what in FILES[words[0]].values())
        print(f"Created in {overlay.resolve()}:\n  {made[0]}  {what}")
        print(f"Then run: python3 build_tools/start.py check --overlay {overlay}")
    return 0


def into_overlay(words: list[str], folder: Path) -> list[str]:
    """Write the file of one new page, question or paper into an overlay; give its name there."""
    kind, _ = _read(words)
    if kind == "calculator":
        raise NotWrittenError(
            "An overlay holds no calculator: it changes no formula.\n"
            "Fix: write it in the handbook's own folder, without --overlay."
        )
    if not (folder / SETTINGS).is_file():
        raise NotWrittenError(
            f"{folder.resolve()} is no overlay: it holds no {SETTINGS}.\n"
            "Fix: name the folder that holds it, or begin one with 'new overlay FOLDER'."
        )
    return write(words, folder, IN_OVERLAY)


def report(kind: str, stem: str, made: list[str]) -> str:
    """What was created, what was changed, and which files the author has still to edit."""
    left = [what for _, what in FILES[kind].values()]
    test = f", and test -k {stem} to run its rows" if kind == "calculator" else ""
    lines = ["Created, for you to fill in:", *_columns(zip(made, left, strict=True))]
    lines += ["Changed: no file. The menu, the search and the tests find it by its name."]
    lines += ["To add to, where it names what is not there yet:", *_columns(WHERE_NEEDED[kind])]
    lists = "each blank" if kind == "calculator" else "what does not fit"
    lines += [f"Then run: python3 build_tools/start.py check, which lists {lists}{test}"]
    return "\n".join(lines)


def _columns(pairs: Iterable[tuple[str, str]]) -> list[str]:
    listed = list(pairs)
    width = max(len(name) for name, _ in listed)
    return [f"  {name:{width}}  {what}" for name, what in listed]


def write(words: list[str], root: Path, places: Mapping[str, str] = {}) -> list[str]:
    """Write the files of one new page under `root`; give their names.

    Args:
        words: The kind and the stem.
        root: Folder of the project, or of an overlay.
        places: Which folders an overlay has for those of the project.
    """
    kind, stem = _read(words)
    made = {template: name.format(stem=stem) for template, (name, _) in FILES[kind].items()}
    for folder, own in places.items():
        made = {template: name.replace(folder, own) for template, name in made.items()}
    there = [name for name in made.values() if (root / name).exists()]
    if there:
        raise NotWrittenError(
            f"{', '.join(there)}: already there, so nothing was written.\n"
            "Fix: choose another stem, or edit what is there."
        )
    groups = _groups(kind)
    replace = {"STEM": stem, "TITLE": stem.replace("_", " ").capitalize()}
    replace |= {"GROUPS": ", ".join(groups), "GROUP": next(iter(groups), "")}
    for template, name in made.items():
        text = (TEMPLATES / f"{template}.template").read_text(encoding="utf-8")
        for word, by in replace.items():
            text = re.sub(rf"\b{word}\b", by, text)
        if places:
            text = re.sub(rf"({TRY}.*)", rf"\1 --overlay PATH/TO/{root.resolve().name}", text)
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return list(made.values())


def _read(words: list[str]) -> tuple[str, str]:
    """The kind and the stem, or what is wrong with them."""
    if len(words) != 2:
        raise NotWrittenError(f"Got {len(words)} words, expected a kind and a stem.\n{USAGE}")
    kind, stem = words
    if kind not in FILES:
        near = difflib.get_close_matches(kind, FILES, n=1)
        hint = f" Did you mean '{near[0]}'?" if near else ""
        raise NotWrittenError(f"'{kind}' is nothing that can be begun.{hint}\n{USAGE}")
    if not re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", stem) or keyword.iskeyword(stem):
        raise NotWrittenError(
            f"'{stem}' can't be a stem: it names files, a page and a function.\n"
            "Expected small letters and digits, words joined by underscores, a letter first.\n"
            f"Fix: use '{_near_stem(stem, kind)}'."
        )
    return kind, stem


def _near_stem(text: str, kind: str) -> str:
    spaced = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", text)
    near = re.sub(r"[^a-z0-9]+", "_", spaced.lower()).strip("_").lstrip("0123456789_")
    return near if near and not keyword.iskeyword(near) else f"{near or 'my'}_{kind}"


def _groups(kind: str) -> list[str]:
    """Ids of the sections that such a page can stand in."""
    nav = read_file(ROOT / "content" / "_nav.yaml", "content/_nav.yaml").value
    return [each["id"] for each in nav["sections"] if each["kind"] == FOLDERS.get(kind)]
