"""The command `new`: write the files of a calculator or a procedure, so nobody starts blank."""

import difflib
import keyword
import re
import sys
from pathlib import Path

from build_tools.read_yaml import read_file

ROOT = Path(__file__).resolve().parent.parent
TEMPLATES = ROOT / "build_tools" / "templates" / "new"

# Each kind: its files by template, and the kind of section that it belongs to.
FILES = {
    "calculator": {
        "calculator.py": "calcs/calculators/{stem}.py",
        "calculator.yaml": "content/calculators/{stem}.yaml",
        "table.yaml": "tests/tables/{stem}.yaml",
    },
    "procedure": {"procedure.yaml": "content/procedures/{stem}.yaml"},
}
USAGE = "Use: python3 build_tools/start.py new calculator|procedure STEM"


class NotWrittenError(Exception):
    """Nothing was written. Its text says why and what to do."""


def main(words: list[str]) -> int:
    """Write the files that the command line asks for."""
    try:
        made = write(words, ROOT)
    except NotWrittenError as refusal:
        print(refusal, file=sys.stderr)
        return 2
    for path in made:
        print(f"Wrote {path}")
    print("Write what is empty in them, then run: python3 build_tools/start.py check")
    return 0


def write(words: list[str], root: Path) -> list[str]:
    """Write the files of one new page under `root`; give their names."""
    kind, stem = _read(words)
    made = {template: name.format(stem=stem) for template, name in FILES[kind].items()}
    there = [name for name in made.values() if (root / name).exists()]
    if there:
        raise NotWrittenError(
            f"{', '.join(there)}: already there, so nothing was written.\n"
            "Fix: choose another stem, or edit what is there."
        )
    replace = {"STEM": stem, "TITLE": stem.replace("_", " ").capitalize(), "GROUPS": _groups(kind)}
    for template, name in made.items():
        text = (TEMPLATES / f"{template}.template").read_text(encoding="utf-8")
        for word, by in replace.items():
            text = re.sub(rf"\b{word}\b", by, text)
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
        raise NotWrittenError(f"'{kind}' is not a kind of page.{hint}\n{USAGE}")
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


def _groups(kind: str) -> str:
    """Ids of the sections that such a page can stand in."""
    nav = read_file(ROOT / "content" / "_nav.yaml", "content/_nav.yaml").value
    sections = [section["id"] for section in nav["sections"] if section["kind"] == f"{kind}s"]
    return ", ".join(sections)
