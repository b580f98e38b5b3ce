"""Runs inside the runtime when the build freezes it; see create_snapshot.mjs.

Modules that only an import needs lie in one stretch of memory, and are taken out again, so that
the snapshot is smaller and is unpacked sooner. Should a calculator ask for one after all, the
answer fails, the build stops, and in a browser the ordinary start takes over.
"""

import gc
import importlib
import sys
from pathlib import Path
from types import ModuleType

# What pint asks for at its own import and never again: versions of packages, a folder for caches.
ONLY_FOR_IMPORTS = (
    "base64", "bz2", "email", "glob", "hashlib", "hmac", "importlib.metadata",
    "importlib.resources", "ipaddress", "pickle", "platform", "platformdirs", "quopri", "random",
    "shutil", "tempfile", "urllib", "zipfile",
)  # fmt: skip

# What stays. Imported first, so that it does not lie between what goes.
STAYS = (
    "collections.abc", "contextlib", "copy", "dataclasses", "datetime", "decimal", "enum",
    "fractions", "functools", "inspect", "json", "locale", "logging", "math", "numbers", "pathlib",
    "re", "string", "textwrap", "tokenize", "traceback", "typing", "warnings", "weakref",
)  # fmt: skip


def load_libraries() -> None:
    """Import the standard modules, those that stay before those that go; then other people's."""
    importlib.invalidate_caches()  # the clock stands still, so new files are not noticed
    for name in (*STAYS, *ONLY_FOR_IMPORTS, "pint"):
        importlib.import_module(name)


def load_calculators() -> None:
    """Import the calculators, and give them their figures and words."""
    importlib.invalidate_caches()
    bridge = importlib.import_module("calcs.bridge")
    bridge.load(Path("/bundle.json").read_text(encoding="utf-8"))


def let_go() -> None:
    """Take out the modules that only an import needs, and every name that leads to them."""
    gone = {name for name in sys.modules if _goes(name)}
    for name, module in list(sys.modules.items()):
        if name not in gone:
            names = vars(module)
            for key in [key for key, value in names.items() if _owner(value) in gone]:
                del names[key]
    for name in gone:
        del sys.modules[name]
    gc.collect()


def collect_garbage() -> None:
    """Set aside all that lives, so that no later sweep of the garbage collector goes through it.

    A sweep of everything takes longer than a frame of the screen, and would fall on a keystroke.
    """
    gc.collect()
    gc.freeze()


def _goes(name: str) -> bool:
    return any(name == each or name.startswith(f"{each}.") for each in ONLY_FOR_IMPORTS)


def _owner(value: object) -> str | None:
    if isinstance(value, ModuleType):
        return value.__name__
    return getattr(value, "__module__", None)
