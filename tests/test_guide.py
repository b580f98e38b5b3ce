"""The guide for contributors names what is there, and answers first where a change goes."""

from __future__ import annotations

import re
import subprocess

import pytest

from build_tools.commands import COMMANDS
from build_tools.setup.paths import ROOT
from build_tools.sources.rule import rules

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SCREEN = 40  # lines of a window on a desk
QUOTED = re.compile(r"`([^`\n]+)`")
# A path has a folder and a name; STEM, <rule> and * stand for any.
PATH = re.compile(r"[\w.<>*-]+(?:/[\w.<>*-]+)+/?|[\w.-]+\.(?:md|yml)")
SHORT = ("theme/", "web/")  # said at the top to be in build_tools/
MADE = ("dist/", "site/", "hosted/", "data/limits/<subject>.yaml", ".cache/")


def test_the_first_screen_says_where_a_change_goes() -> None:
    first = GUIDE.splitlines()[:SCREEN]
    assert "## Where does my change go?" in first[:4]
    rows = [line for line in first if line.startswith("| ") and line.count("|") == 3]
    assert len(rows) > 20


@pytest.mark.parametrize("rule", [rule.name for rule in rules()])
def test_every_rule_is_named(rule: str) -> None:
    assert f"`{rule}`" in GUIDE


@pytest.mark.parametrize("command", [command.name for command in COMMANDS])
def test_every_command_is_named(command: str) -> None:
    assert f"| `{command}` |" in GUIDE


def test_every_path_is_there() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    folders = {name[:place] for name in listed for place, c in enumerate(name) if c == "/"}
    seen = 0
    for quoted in QUOTED.findall(GUIDE):
        for path in PATH.findall(quoted):
            if not PATH.fullmatch(quoted) or path.startswith("_") or path.startswith(MADE):
                continue
            seen += 1
            full = f"build_tools/{path}" if path.startswith(SHORT) else path
            pattern = re.escape(full.rstrip("/"))
            for any_name in ("STEM", "<rule>", r"\*"):
                pattern = pattern.replace(any_name, "[^/]+")
            assert any(re.fullmatch(pattern, name) for name in (*listed, *folders)), path
    assert seen > 50


@pytest.mark.parametrize(
    "words",
    [
        *("`site_name`", "`emergency_contact`", "`good_for_days`", "build_tools/sources/host.py"),
        *(
            "build_tools/sources/naming.py",
            "build_tools/site/trial.py",
            "build_tools/sources/days.py",
        ),
        *("`example_day`", "`SOURCE_DATE_EPOCH`", "`bound: greatest`", "`bound: least`"),
        *("Why the snapshot is made our way", "Why the YAML reader is ours", "Why MkDocs"),
        *("`span`", "`rests_on`", "`uses`"),
        "no fixes after 5 May 2027",
    ],
)
def test_what_an_author_must_know_is_said(words: str) -> None:
    assert words in GUIDE


def test_it_is_short() -> None:
    """What is read once must be read: it had more than three thousand words."""
    assert len(GUIDE.split()) < 2800
