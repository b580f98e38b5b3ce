"""Set up what one command needs, at once where it can be, and nothing that is already done."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Callable, Sequence, Tuple

from build_tools.commands import Command
from build_tools.setup import chromium, environment, fetch_wheels, node, paths, programs, stamps
from build_tools.setup.lock import one_at_a_time
from build_tools.setup.progress import end_all, say

Step = Tuple[Callable[[], bool], Callable[[], None]]
# Whether each is done, and what does it. All wait for the first: pip and Node.js come with it.
STEPS = {
    "site": (partial(environment.is_ready, "site"), partial(environment.prepare, "site")),
    "wheels": (
        partial(stamps.holds, fetch_wheels.STAMP, fetch_wheels.LOCK),
        fetch_wheels.prepare,
    ),
    "web": (partial(stamps.holds, node.STAMP, *node.FILES), node.prepare),
    "test": (partial(environment.is_ready, "test"), partial(environment.prepare, "test")),
}


def set_up(command: Command) -> tuple[list[str], dict[str, str]]:
    """Bring everything to what the command needs; give the program to run and its variables."""
    steps = [step for name, step in STEPS.items() if name in command.needs]
    with ThreadPoolExecutor() as pool:
        try:
            # The system's packages wait for nothing of ours, and take as long as all the rest.
            system = pool.submit(programs.prepare, command.needs)
            if not all(is_ready() for is_ready, _ in steps):
                say(f"Setting up for '{command.name}'. Only what has changed is done.")
                with one_at_a_time(paths.CACHE / "set-up.lock"):
                    _prepare(steps[:1], pool)
                    _prepare(steps[1:], pool)
            system.result()
            if "chromium" in command.needs:
                pool.submit(chromium.prepare).result()
        except KeyboardInterrupt:
            end_all()
            raise
    environment.say_what_is_older()
    module = ["pytest"] if command.module == "pytest" else ["build_tools", command.name]
    return [paths.python(), "-m", *module], paths.variables()


def _prepare(steps: Sequence[Step], pool: ThreadPoolExecutor) -> None:
    # Asked again whether each is ready: another set-up may just have done it.
    at_work = [pool.submit(prepare) for is_ready, prepare in steps if not is_ready()]
    for each in at_work:
        each.result()
