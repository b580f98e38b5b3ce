#!/usr/bin/env python3
"""Set up what a command needs, then run it: python3 build_tools/start.py serve.

Needs Python 3.9 or later and nothing else. This file keeps to spellings that older Pythons can
read too, so that they can say so.
"""

import contextlib
import os
import subprocess
import sys

OLDEST = (3, 9)
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def main(arguments: list) -> int:
    """Set up and run the command that `arguments` name. Give the exit status."""
    if sys.version_info < OLDEST:
        print("start.py needs Python 3.9 or later. This is " + sys.version.split()[0] + ".")
        print("Fix: run it with a newer Python, for example python3.13 build_tools/start.py")
        return 1
    sys.path[0] = ROOT
    from build_tools.commands import closed, find_command
    from build_tools.setup.errors import SetUpStopped
    from build_tools.setup.orchestrate import set_up

    try:
        command = find_command(arguments)
        if isinstance(command, int):
            return command
        # A tool that asks for JSON gets nothing else on standard output.
        with contextlib.redirect_stdout(sys.stderr if "--json" in arguments else sys.stdout):
            program, env = set_up(command)
    except OSError as problem:
        if problem.filename is None:
            raise
        print(closed(problem), file=sys.stderr)
        return 1
    except SetUpStopped as stopped:
        print(stopped, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print(
            "\nSet-up was interrupted. The next run does again what was cut short.", file=sys.stderr
        )
        return 130
    return hand_over([*program, *arguments[1:]], env)


def hand_over(program: list, env: dict) -> int:
    """Become the program, so that signals reach it; where that isn't possible, wait for it."""
    sys.stdout.flush()
    env.setdefault("HANDBOOK_CALLED_FROM", os.getcwd())  # for folders that the caller names
    os.chdir(ROOT)
    if os.name == "posix":
        os.execve(program[0], program, env)
    try:
        return subprocess.call(program, env=env)
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
