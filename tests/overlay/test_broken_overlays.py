"""What an author of an overlay is told: of each broken file the exact words, and of each slip.

No site is built. The small handbook in `base.yaml` lies beneath.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
import yaml

from build_tools.sources.read_yaml import Document, dotted, read_text
from tests.overlay.broken_overlays import CASES, GOOD, SETTINGS, told

AT_LEAST = 60
SCRIPT = '"<script>alert(1)</script>"'
# Names of a host's own: another name for one is another thing, and no slip.
FREE = {"northmoor_rules", "burner.bay"}
STEPS = {"light", "set"}  # of which a host need say nothing
MAY_BE_LEFT_OUT = {
    *("dated", "look", "accent", "accent_dark", "mark", "emergency_contact", "hide", "home"),
    *("welcome", "until", "edition", "add_after_do", "add_caution", "add_stop", "do", "steps"),
    *("sections", "invented", "read", "why"),
}


@pytest.mark.parametrize("case", CASES, ids=[each["id"] for each in CASES])
def test_a_broken_overlay_is_told_in_exactly_these_words(case: dict[str, Any]) -> None:
    files = {"overlay.yaml": SETTINGS, **case["files"]}
    assert "\n\n".join(map(str, told(files))) == case["expect"].rstrip("\n")


def test_there_are_many_of_them() -> None:
    assert len(CASES) >= AT_LEAST
    assert all(case["expect"] for case in CASES)


def test_a_good_overlay_has_no_problem() -> None:
    assert told(GOOD) == []


Mutant = tuple[str, str, str, int, str]  # slip, file, key, the line to be told of, new text


def mutants(name: str, text: str) -> Iterator[Mutant]:
    """A file with one slip at each of its keys in turn."""
    document = read_text(text, name)
    lines = text.splitlines()
    for path, mark in document.places.keys.items():
        key, place, indent = str(path[-1]), mark.line - 1, mark.column - 1
        line, end = lines[place], _end(lines, place, indent)
        if not line[indent:].startswith(f"{key}:") or line[:indent].strip(" -"):
            continue  # it stands in a line with others
        before, within, after = lines[:place], lines[place:end], lines[end:]
        wrong = f"{line[:indent]}{key[0]}q{key[1:]}{line[indent + len(key) :]}"
        other = f"{line[: indent + len(key)]}: {_other(document, path)}"
        slips = {
            "double": [*before, *within, *_moved(within, indent), *after],
            "misspell": [*before, wrong, *within[1:], *after],
            "retype": [*before, other, *after],
        }
        if "-" not in line[:indent]:
            slips["drop"] = [*before, *after]
        for slip, changed in slips.items():
            told_at = end + 1 if slip == "double" else mark.line
            yield slip, name, key, told_at, "\n".join(changed) + "\n"


def _moved(whole: list[str], indent: int) -> list[str]:
    """The same lines, of which the first begins no item of a list."""
    return [" " * indent + whole[0][indent:], *whole[1:]]


def _end(lines: list[str], place: int, indent: int) -> int:
    """The line after all that stands below a key."""
    for number in range(place + 1, len(lines)):
        line = lines[number]
        if line.strip() and len(line) - len(line.lstrip()) <= indent:
            return number
    return len(lines)


def _other(document: Document, path: tuple[str | int, ...]) -> str:
    """A value of another type than the one that stands there."""
    value: Any = document.value
    for part in path:
        value = value[part]
    return "just text" if isinstance(value, dict) else "{a: {b: c}}"


ALL = [
    each for name, text in GOOD.items() if name.endswith(".yaml") for each in mutants(name, text)
]


def test_each_slip_is_harmless_or_told_of_at_its_line() -> None:
    """Key by key: what is left out, written twice, misspelt or of another type."""
    counted: Counter[tuple[str, str]] = Counter()
    missed = []
    for slip, name, key, line, text in ALL:
        found = told({**GOOD, name: text})
        lines = {each.line for each in found if each.file == f"northmoor/{name}"}
        if slip == "drop" and key in MAY_BE_LEFT_OUT | STEPS and not found:
            counted[slip, "harmless"] += 1
        elif slip in {"misspell", "drop"} and key in FREE:
            counted[slip, "another name"] += 1
        elif line in lines or (slip == "drop" and found):
            counted[slip, "told"] += 1
        else:
            missed.append((slip, name, key, line, [str(each) for each in found]))
    assert missed == []
    assert counted.total() == len(ALL) > 150
    assert counted["double", "told"] == sum(slip == "double" for slip, *_ in ALL)
    assert counted["retype", "told"] == sum(slip == "retype" for slip, *_ in ALL)


def swapped(name: str, text: str) -> Iterator[tuple[str, str]]:
    """A file with two of its first keys changed over, where their order is fixed."""
    value = read_text(text, name).value
    keys = list(value)
    for place in range(len(keys) - 1):
        order = [*keys[:place], keys[place + 1], keys[place], *keys[place + 2 :]]
        yield (
            name,
            yaml.safe_dump({k: value[k] for k in order}, sort_keys=False, allow_unicode=True),
        )


def test_keys_in_another_order_are_told_of() -> None:
    seen = 0
    for name in ("overlay.yaml", "words/procedures/burner.yaml", "tables/drops.yaml"):
        for file, text in swapped(name, GOOD[name]):
            found = told({**GOOD, file: text})
            assert any(" stands after " in each.found for each in found), text
            seen += 1
    assert seen > 12


def with_script() -> Iterator[tuple[str, str, str]]:
    """The good overlay with a script in the place of one of its values, each in turn."""
    for name, text in GOOD.items():
        document = read_text(text, name) if name.endswith(".yaml") else Document(name)
        lines = text.splitlines()
        for path, mark in document.places.values.items():
            value: Any = document.value
            for part in path:
                value = value[part]
            line = lines[mark.line - 1]
            if isinstance(value, str) and line[mark.column - 1 :].strip('"') == value:
                changed = f"{line[: mark.column - 1]}{SCRIPT}"
                whole = [*lines[: mark.line - 1], changed, *lines[mark.line :]]
                yield name, dotted(path), "\n".join(whole) + "\n"


def test_a_script_is_refused_in_every_field() -> None:
    missed = [(n, where) for n, where, text in with_script() if not told({**GOOD, n: text})]
    assert missed == []
    assert len([*with_script()]) > 35
