"""Make an environment that has pip. Run by the Python that it is to have.

`python -m venv` has pip install itself, which takes nearly all of its time. Python carries pip as
a wheel of plain modules, and such a wheel is installed once it is unpacked.
"""

from __future__ import annotations

import ensurepip
import os
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path


def main(folder: str) -> None:
    """Make it in a folder that isn't there yet, or has an older one."""
    wheel = carried_pip()
    # Symlinks as `python -m venv` makes them.
    venv.create(folder, clear=True, symlinks=os.name != "nt", with_pip=wheel is None)
    if wheel is not None:
        [modules] = Path(folder).glob("[Ll]ib/**/site-packages")
        with zipfile.ZipFile(wheel) as archive:
            archive.extractall(modules)


def carried_pip() -> Path | None:
    """The wheel of pip that this Python carries, or that its system keeps for it."""
    folders = [sysconfig.get_config_var("WHEEL_PKG_DIR"), Path(ensurepip.__file__).parent]
    found = [wheel for each in folders if each for wheel in Path(each).rglob("pip-*-none-any.whl")]
    return found[0] if found else None


if __name__ == "__main__":
    main(sys.argv[1])
