"""What a command prints may go to a program that stops reading: `check --help | head -1`."""

import os
import subprocess
import sys

from build_tools.setup.paths import ROOT


def test_who_reads_no_further_is_no_fault():
    read, write = os.pipe()
    os.close(read)
    words = [sys.executable, "-m", "build_tools", "check", "--help"]
    with os.fdopen(write) as out:
        done = subprocess.run(
            words, cwd=ROOT, stdout=out, stderr=subprocess.PIPE, text=True, check=False
        )
    assert (done.returncode, done.stderr) == (0, "")
