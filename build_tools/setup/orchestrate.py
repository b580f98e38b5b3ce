"""Set up what one command needs, in order, and nothing that is already done."""

from __future__ import annotations

from functools import partial

from build_tools.commands import Command
from build_tools.setup import chromium, environment, fetch_wheels, node, paths, system_packages
from build_tools.setup.lock import one_at_a_time
from build_tools.setup.progress import say

# Whether each is done, and what does it. In this order: Node.js comes with the packages of `site`.
STEPS = {
    "site": (partial(environment.is_ready, "site"), partial(environment.prepare, "site")),
    "wheels": (fetch_wheels.is_ready, fetch_wheels.prepare),
    "web": (node.is_ready, node.prepare),
    "test": (partial(environment.is_ready, "test"), partial(environment.prepare, "test")),
}


def set_up(command: Command) -> tuple[list[str], dict[str, str]]:
    """Bring everything to what the command needs; give the program to run and its variables."""
    steps = [step for name, step in STEPS.items() if name in command.needs]
    if not all(is_ready() for is_ready, _ in steps):
        say(f"Setting up for '{command.name}'. Only what has changed is done.")
        with one_at_a_time(paths.CACHE / "set-up.lock"):
            for is_ready, prepare in steps:
                if not is_ready():  # another set-up may just have done it
                    prepare()
    environment.say_what_is_older()
    if "chromium" in command.needs:
        system_packages.prepare(command.needs)
        chromium.prepare()
    module = ["pytest"] if command.module == "pytest" else ["build_tools", command.name]
    return [paths.python(), "-m", *module], paths.variables()
