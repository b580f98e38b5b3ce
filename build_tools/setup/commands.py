"""The project's commands: what each does, what must be set up for it, where it is."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from pathlib import Path

BUILD = ("site", "wheels", "web")


@dataclass(frozen=True)
class Command:
    """One word after start.py. `module` is inside build_tools; pytest is not."""

    name: str
    does: str
    needs: tuple[str, ...]
    module: str
    takes: str = ""


COMMANDS = (
    Command("serve", "build the handbook and show it at a local address", BUILD, "site"),
    Command("build", "build the handbook into a folder", BUILD, "site"),
    Command("check", "check data and content, and list every problem", ("site",), "check"),
    Command("test", "run every test", (*BUILD, "test", "chromium", "programs"), "pytest"),
    Command("bench", "measure the figures", (*BUILD, "test", "chromium"), "bench"),
    Command("package", "make the editions to hand out", BUILD, "package"),
    Command("new", "write the files of a new page", ("site",), "new", "calculator|procedure STEM"),
)


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


def unknown(name: str, root: Path) -> str:
    """What to say of a word that is no command."""
    names = list(here(root))
    near = difflib.get_close_matches(name, names, n=1)
    hint = f" Did you mean '{near[0]}'?" if near else ""
    return f"'{name}' is not a command. There are: {', '.join(names)}.{hint}"
