"""What `serve` loads before it is asked for, and when it loads that anew."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from build_tools.serve import work
from build_tools.setup.paths import ROOT

# Prints each file of ours that is opened while the modules of both works are loaded.
OPENED = """
import json, os, sys
from build_tools.serve import work

folders = tuple(os.path.join(os.getcwd(), name, "") for name in ("build_tools", "calcs"))
opened = set()

def note(event, given):
    if event == "open" and str(given[0]).startswith(folders):
        opened.add(str(given[0]))

sys.addaudithook(note)
for names in work.OURS.values():
    work._load(names)
print(json.dumps(sorted(each for each in opened if "__pycache__" not in each)))
"""


def test_whatever_is_read_as_code_is_loaded_has_it_loaded_anew_after_an_edit() -> None:
    command = [sys.executable, "-c", OPENED]
    said = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    watched = {path for path, *_ in work._code()}
    assert {each for each in json.loads(said) if each not in watched} == set()
    assert len([each for each in watched if each.endswith(".py")]) > 300


def test_words_and_numbers_are_no_code() -> None:
    folders = {Path(path).relative_to(ROOT).parts[0] for path, *_ in work._code()}
    assert folders == {"build_tools", "calcs"}
