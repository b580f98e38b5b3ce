"""Three workers for two cores run the tests: what is dear to make, the first makes for all.

A few tests, picked by name or folder, run in one process: a second would only cost time.
"""

from __future__ import annotations

import dataclasses
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock

from tests.setup import audit
from tests.setup.audit import Audit

MadeOnce = Callable[[str, Callable[[Path], object]], Path]

AUDITS = {"npm": audit.front_end, "Python": audit.python}
MOST = 3  # browsers are programs of many processes: more workers only make each other late


def how_many(config: pytest.Config) -> int:
    """Workers for `-n auto`."""
    options = config.option
    is_last_failed = getattr(options, "lf", False)  # `-p no:cacheprovider` leaves it out
    picked = options.keyword or options.markexpr or is_last_failed or options.usepdb
    if picked or config.args_source is pytest.Config.ArgsSource.ARGS:
        return 0
    return min(MOST, (os.cpu_count() or 1) + 1)  # now and then all that one does is wait


def audited(made_once: MadeOnce) -> dict[str, Audit]:
    """What the registries say of each lock. It is asked for early: most of it is waiting."""
    texts = {lock: (made_once("audits", _ask) / lock).read_text("utf-8") for lock in AUDITS}
    said = {lock: json.loads(text) for lock, text in texts.items()}
    return {lock: Audit(lock, tuple(each["weak"]), each["unknown"]) for lock, each in said.items()}


def _ask(folder: Path) -> None:
    for lock, ask in AUDITS.items():
        (folder / lock).write_text(json.dumps(dataclasses.asdict(ask())), "utf-8")


def maker(factory: pytest.TempPathFactory) -> MadeOnce:
    """Gives `made_once(name, make)`: a folder that `make` has filled. Tests only read it."""
    own = factory.getbasetemp()
    is_worker = "PYTEST_XDIST_WORKER" in os.environ
    shared = (own.parent if is_worker else own) / "made_once"
    shared.mkdir(exist_ok=True)

    def made_once(name: str, make: Callable[[Path], object]) -> Path:
        folder, whole = shared / name, shared / f"{name}.whole"
        with FileLock(shared / f"{name}.lock"):
            if not whole.exists():
                folder.mkdir(exist_ok=True)
                make(folder)
                whole.touch()
        return folder

    return made_once
