"""The project's commands: what each does, what must be set up for it, where it is."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from pathlib import Path

BUILD = ("site", "wheels", "web")


ASKS = ("-h", "--help", "help")


@dataclass(frozen=True)
class Option:
    """What may stand after a command: `--port`, and what it takes; nothing for a switch."""

    name: str
    does: str
    takes: str = ""


@dataclass(frozen=True)
class Command:
    """One word after start.py. `module` is inside build_tools; pytest is not.

    Its options stand here, and not with what reads them, so that they can be told before anything
    is installed.
    """

    name: str
    does: str
    needs: tuple[str, ...]
    module: str
    takes: str = ""
    options: tuple[Option, ...] = ()
    more: str = ""


OUT = "the folder; default"
COMMANDS = (
    Command(
        "serve",
        "build the handbook and show it at a local address",
        BUILD,
        "site",
        options=(Option("--port", "the first port to try; default 8000", "PORT"),),
        more="It builds again when a file changes. Stop it with Ctrl-C.",
    ),
    Command(
        "build",
        "build the handbook into a folder",
        BUILD,
        "site",
        options=(
            Option("--out", f"{OUT} site", "FOLDER"),
            Option("--draft", "no service worker: nothing of it stays in a browser"),
        ),
    ),
    Command("check", "check data and content, and list every problem", ("site",), "check"),
    Command(
        "test",
        "run every test",
        (*BUILD, "test", "chromium", "programs"),
        "pytest",
        takes="[WORDS FOR PYTEST]",
        more="It installs what the tests need. On Debian, and as its administrator, that includes\n"
        "browsers and web servers of the system; it names them before it does.",
    ),
    Command(
        "bench",
        "measure the figures",
        (*BUILD, "test", "chromium"),
        "bench",
        options=(
            Option("--repeats", "how often each start is measured; default 9", "NUMBER"),
            Option("--json", "write the figures to a file", "FILE"),
            Option("--site", "measure a site built before", "FOLDER"),
        ),
    ),
    Command(
        "package",
        "make the editions to hand out",
        BUILD,
        "package",
        options=(Option("--out", f"{OUT} dist", "FOLDER"),),
    ),
    Command("new", "write the files of a new page", ("site",), "new", "calculator|procedure STEM"),
)


def help_of(command: Command) -> str:
    """What a command does and takes."""
    options = [f"[{f'{each.name} {each.takes}'.strip()}]" for each in command.options]
    called = " ".join(filter(None, (command.name, *options, command.takes)))
    does = f"{command.does[0].upper()}{command.does[1:]}."
    lines = [f"python3 build_tools/start.py {called}", "", does]
    lines += [f"  {f'{each.name} {each.takes}':<16} {each.does}" for each in command.options]
    lines += [command.more] if command.more else []
    return "\n".join(lines)


def here(root: Path) -> dict[str, Command]:
    """The commands whose module is in this folder."""
    modules = {path.stem for path in (root / "build_tools").glob("*.py")} | {"pytest"}
    return {command.name: command for command in COMMANDS if command.module in modules}


def usage(root: Path) -> str:
    """How to call start.py."""
    lines = ["python3 build_tools/start.py COMMAND", ""]
    for command in here(root).values():
        words = f"{command.name} {command.takes}".rstrip()
        lines.append(f"  {words:<{10 if not command.takes else 0}}  {command.does}")
    lines += ["", "Each sets up what it needs first. COMMAND --help says more."]
    return "\n".join(lines)


def closed(problem: OSError) -> str:
    """What to say of a file or a folder that can't be read or written."""
    return (
        f"{problem.filename}: {(problem.strerror or str(problem)).lower()}.\n"
        "Fix: give this account the right to read and write it, or name another folder."
    )


def unknown(name: str, root: Path) -> str:
    """What to say of a word that is no command."""
    names = list(here(root))
    near = difflib.get_close_matches(name, names, n=1)
    hint = f" Did you mean '{near[0]}'?" if near else ""
    return f"'{name}' is not a command. There are: {', '.join(names)}.{hint}"
