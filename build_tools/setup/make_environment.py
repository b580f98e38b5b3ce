"""Make an environment that has pip. Run with its folder, by the Python that it is to have.

`python -m venv` has pip install itself, which is 5 s of work. Python carries pip as a wheel of
plain modules, and such a wheel is installed once it is unpacked: 0.1 s.
"""

import ensurepip
import os
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

if __name__ == "__main__":
    folder = Path(sys.argv[1])
    carried = [sysconfig.get_config_var("WHEEL_PKG_DIR"), Path(ensurepip.__file__).parent]
    wheels = [wheel for each in carried if each for wheel in Path(each).rglob("pip-*-none-any.whl")]
    # Symlinks as `python -m venv` makes them.
    venv.create(folder, clear=True, symlinks=os.name != "nt", with_pip=not wheels)
    if wheels:
        [modules] = folder.glob("[Ll]ib/**/site-packages")
        zipfile.ZipFile(wheels[0]).extractall(modules)
