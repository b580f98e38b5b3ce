"""The browser's standard library, less what can do nothing in a page.

Tools for developers, a terminal, other processes, and servers: a seventh of it, which every device
would keep. What calcs and pint import is all there, for the tests ask the ordinary start for every
row. Each file that stays is as its makers wrote it.
"""

import zipfile
from pathlib import Path

# Folders and files at the top of the library.
LEFT_OUT = frozenset(
    {
        *("_pyrepl", "multiprocessing", "unittest", "wsgiref", "xmlrpc"),
        *("bdb.py", "doctest.py", "pdb.py", "pickletools.py", "profile.py", "pstats.py"),
        *("pydoc.py", "socketserver.py", "timeit.py", "trace.py"),
    }
)


def leave_out(library: Path) -> None:
    """Write the library again without them. The same library gives the same bytes."""
    with zipfile.ZipFile(library) as old:
        kept = [each for each in old.infolist() if each.filename.split("/")[0] not in LEFT_OUT]
        parts = [(each, old.read(each)) for each in kept]
    with zipfile.ZipFile(library, "w") as new:
        for each, content in parts:
            new.writestr(each, content, zipfile.ZIP_DEFLATED, 9)
