"""The project's commands: what each does, what must be set up for it, where it is."""

from __future__ import annotations

import difflib
import sys
from typing import Mapping, NamedTuple, Sequence

BUILD = ("site", "wheels", "web")
ASKS = ("-h", "--help", "help")
REPEATABLE = "…"  # ends an option that may be given several times
OVERLAY = {"--overlay FOLDER …": "a host's own layer over the handbook; the lowest first"}
PORT = 8000  # the first that `serve` tries
NO_COMMAND = 2  # exit status


class Command(NamedTuple):
    """One word after start.py. `module` is inside build_tools; pytest is not.

    Its options stand here, and not with what reads them, so that they can be told before anything
    is installed: `--port PORT`, or `--draft` for a switch, and what each does.
    """

    name: str
    does: str
    needs: tuple[str, ...]
    module: str
    options: Mapping[str, str] = {}
    takes: str = ""
    more: str = ""

    @property
    def help(self) -> str:
        """What it does and takes."""
        options = [f"[{option}]" for option in self.options]
        called = " ".join(filter(None, (self.name, *options, self.takes)))
        does = f"{self.does[0].upper()}{self.does[1:]}."
        lines = [f"python3 build_tools/start.py {called}", "", does]
        lines += [f"  {option:<20} {does}" for option, does in self.options.items()]
        return "\n".join([*lines, *([self.more] if self.more else [])])


COMMANDS = (
    Command(
        "serve",
        "build the handbook and show it at a local address",
        BUILD,
        "serve.command",
        {"--port PORT": f"the first port to try; default {PORT}", **OVERLAY},
        more="It builds again when a file changes, and the open page follows. Stop it with Ctrl-C.",
    ),
    Command(
        "build",
        "build the handbook into a folder",
        BUILD,
        "site.build_site",
        {
            "--out FOLDER": "the folder; default site",
            "--draft": "no service worker: nothing of it stays in a browser",
            **OVERLAY,
        },
    ),
    Command(
        "check",
        "check data and content, and list every problem",
        ("site",),
        "site.check",
        {
            **OVERLAY,
            "--advice": "tell what is worth a look too, though nothing is refused for it",
            "--json": "tell it to a tool, as one JSON text",
        },
        more="It ends with 0 where nothing is refused, with 1 where something is, with 2 where it\n"
        "was asked for wrongly, and with 3 where --advice was asked for and there is nothing else.",
    ),
    Command(
        "test",
        "run every test",
        (*BUILD, "test", "chromium", "programs"),
        "pytest",
        takes="[WORDS FOR PYTEST]",
        more="It installs what the tests need. On Debian, and as its administrator, that includes\n"
        "browsers and web servers of the system; it names them before it does.\n"
        "With --overlay FOLDER it tries that overlay instead: rules and figures, each of its\n"
        "questions with many seeds, its pages in a browser, its links.",
    ),
    Command(
        "bench",
        "measure the figures",
        (*BUILD, "test", "chromium"),
        "bench.run",
        {
            "--repeats NUMBER": "how often each start is measured; default 7",
            "--json FILE": "write the figures to a file",
            "--site FOLDER": "measure a site built before",
        },
    ),
    Command(
        "package",
        "make the editions to hand out",
        BUILD,
        "site.package",
        {
            "--out FOLDER": "the folder; default dist",
            **OVERLAY,
            "--with-invented": "hand out an overlay that holds invented figures",
        },
    ),
    Command(
        "results",
        "tell how hard each question of a paper was for a class, and which slips were made",
        ("site",),
        "for_hosts.class_results",
        {**OVERLAY, "--json": "tell it to a tool, as one JSON text"},
        takes=f"PAPER FILE{REPEATABLE}",
        more="FILE is what a learner saved who sat the paper here. If it was sat on paper it is\n"
        "CSV: a column 'seed', and one for each question by its number: 1, 2, 3. An answer is a\n"
        "number with its unit, the letters of choices, or 'right' or 'wrong'. The same as JSON:\n"
        '{"sat": [{"seed": "x9k2mp", "answers": {"1": "21.3 mbar", "2": "B"}}]}\n'
        "All other columns are left out, and no seed is told: only counts are. The page\n"
        "practise/results.html tells the same of the same files.",
    ),
    Command(
        "new",
        "write the starting files of a page, a question or an overlay",
        ("site",),
        "sources.new",
        takes="calculator|procedure|page|question|paper STEM [--overlay FOLDER], or overlay FOLDER",
        more="With --overlay the page, question or paper is that host's own.",
    ),
)


# What `test` does where an overlay is named: the handbook's own tests never see one.
OF_OVERLAY = Command(
    "test", "try an overlay", (*BUILD, "test", "chromium"), "for_hosts.run", OVERLAY
)


def find_command(words: Sequence[str]) -> Command | int:
    """The command that was asked for; the exit status where it has only to be told how to ask."""
    if not words or words[0] in ASKS:
        print(usage())
        return 0 if words else NO_COMMAND
    found = next((each for each in COMMANDS if each.name == words[0]), None)
    if found is None:
        print(_unknown(words[0]), file=sys.stderr)
        return NO_COMMAND
    if any(word in ASKS[:2] for word in words[1:]):
        print(found.help)
        return 0
    return OF_OVERLAY if found.name == "test" and "--overlay" in words else found


def usage() -> str:
    """How to call start.py."""
    calls = [f"  {f'{each.name} {each.takes}':<10}  {each.does}" for each in COMMANDS]
    more = ["", "Each sets up what it needs first. COMMAND --help says more."]
    return "\n".join(["python3 build_tools/start.py COMMAND", "", *calls, *more])


def _unknown(name: str) -> str:
    names = [each.name for each in COMMANDS]
    near = difflib.get_close_matches(name, names, n=1)
    hint = f" Did you mean '{near[0]}'?" if near else ""
    return f"'{name}' is not a command. There are: {', '.join(names)}.{hint}"


def closed(problem: OSError) -> str:
    """What to say of a file or a folder that can't be read or written."""
    return (
        f"{problem.filename}: {(problem.strerror or str(problem)).lower()}.\n"
        "Fix: give this account the right to read and write it, or name another folder."
    )
