"""Set up what one command needs, in order, and nothing that is already done."""

from __future__ import annotations

import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Sequence

from build_tools import commands
from build_tools.commands import Command
from build_tools.setup import chromium, environment, fetch_wheels, node, system_packages
from build_tools.setup.lock import one_at_a_time
from build_tools.setup.paths import Places
from build_tools.setup.progress import say

WORTH_SAYING_S = 1.0


NO_COMMAND = 2  # exit status


def find_command(root: str, arguments: Sequence[str]) -> Command | int:
    """The command that was asked for; the exit status where it has only to be told how to ask."""
    if not arguments or arguments[0] in commands.ASKS:
        say(commands.usage(Path(root)))
        return 0 if arguments else NO_COMMAND
    found = commands.here(Path(root)).get(arguments[0])
    if found is None:
        print(commands.unknown(arguments[0], Path(root)), file=sys.stderr)
        return NO_COMMAND
    if any(word in commands.ASKS[:2] for word in arguments[1:]):
        say(commands.help_of(found))
        return 0
    return found


def set_up(root: str, command: Command) -> tuple[list[str], dict[str, str]]:
    """Bring everything to what the command needs; give the program to run and its variables."""
    places = Places(Path(root))
    parts = [part for part in ("site", "test") if part in command.needs]
    programs_are_there = system_packages.begin() if "programs" in command.needs else None
    if not _is_ready(places, parts, command.needs):
        began = time.monotonic()
        say(f"Setting up for '{command.name}'. Only what has changed is done.")
        with one_at_a_time(places.cache / "set-up.lock"):
            _do(places, parts, command.needs)
        took = time.monotonic() - began
        if took > WORTH_SAYING_S:
            say(f"Set up in {took:.0f} s.")
    notice = environment.notice(places)
    if notice:
        say(notice)
    env = environment.variables(places)
    if programs_are_there:
        programs_are_there()  # before Chromium: the system installs one thing at a time
    if "chromium" in command.needs:
        env[chromium.VARIABLE] = chromium.prepare(places)
    if "programs" in command.needs:
        env[chromium.SHELL_VARIABLE] = chromium.shell_for(env[chromium.VARIABLE])
    module = ["pytest"] if command.module == "pytest" else ["build_tools", command.name]
    return [environment.python_of(places), "-m", *module], env


def _is_ready(places: Places, parts: Sequence[str], needs: Sequence[str]) -> bool:
    return (
        environment.is_ready(places, parts)
        and ("wheels" not in needs or fetch_wheels.is_ready(places))
        and ("web" not in needs or node.is_ready(places))
    )


def _do(places: Places, parts: Sequence[str], needs: Sequence[str]) -> None:
    """Do what is not done. Asked again, since another set-up may just have done it."""
    environment.prepare(places, [part for part in parts if part == "site"])  # Node.js is in it
    if "wheels" in needs and not fetch_wheels.is_ready(places):
        fetch_wheels.prepare(places)
    if "web" not in needs or node.is_ready(places):
        environment.prepare(places, parts)
    elif environment.is_ready(places, parts):
        node.prepare(places)
    else:
        with ThreadPoolExecutor(1) as beside:
            front_end = beside.submit(node.prepare, places, beside=True)
            environment.prepare(places, parts)
            if not front_end.done():
                say("  Waiting for the front-end packages ...")
        front_end.result()
