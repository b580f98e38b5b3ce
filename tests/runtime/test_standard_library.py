"""What is left out of the browser's standard library is there to leave out, and the rest stays."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

from build_tools.runtime.make_runtime import LIBRARY
from build_tools.runtime.standard_library import LEFT_OUT, leave_out
from build_tools.setup.paths import WEB

WHOLE = WEB / "node_modules" / "pyodide" / LIBRARY


def contents(library: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(library) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_what_is_left_out_is_there_and_the_rest_is_as_it_was(tmp_path: Path):
    cut = Path(shutil.copy(WHOLE, tmp_path))
    leave_out(cut)
    whole, kept = contents(WHOLE), contents(cut)
    gone = whole.keys() - kept.keys()
    assert {name.split("/")[0] for name in gone} == LEFT_OUT
    assert kept == {name: whole[name] for name in kept}
    assert cut.stat().st_size < 0.87 * WHOLE.stat().st_size
