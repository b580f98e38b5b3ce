"""The browser's standard library, less what can do nothing in a page, or is asked for by nobody.

More than half of it, which every device would keep. What calcs, pint and the loader import is all
there: `tests/runtime/test_standard_library.py` follows every import. Each file that stays is as
its makers wrote it.
"""

import zipfile
from pathlib import Path

# Files and folders of the library.
LEFT_OUT = frozenset(
    {
        # For developers.
        *("__hello__.py", "__phello__", "antigravity.py", "bdb.py", "cProfile.py", "code.py"),
        *("codeop.py", "compileall.py", "doctest.py", "json/tool.py", "modulefinder.py", "pdb.py"),
        *("pickletools.py", "profile.py", "pstats.py", "py_compile.py", "pyclbr.py", "pydoc.py"),
        *("pyodide/console.py", "rlcompleter.py", "runpy.py", "symtable.py"),
        *("tabnanny.py", "this.py", "timeit.py", "trace.py", "tracemalloc.py", "unittest"),
        *("zipapp.py",),
        # A terminal and its command line, other processes, other systems.
        *("_android_support.py", "_apple_support.py", "_ios_support.py", "_pyrepl", "argparse.py"),
        *("asyncio/__main__.py", "cmd.py", "concurrent/futures/process.py", "ctypes"),
        *("fileinput.py", "getopt.py", "getpass.py", "multiprocessing", "optparse.py", "pty.py"),
        *("sched.py", "shlex.py", "sysconfig/__main__.py", "tty.py", "webbrowser.py"),
        # Servers, mail and other hosts, which no page asks for anything.
        *("email/_header_value_parser.py", "email/contentmanager.py", "email/generator.py"),
        *("email/headerregistry.py", "email/mime", "email/policy.py", "ftplib.py", "http"),
        *("imaplib.py", "logging/config.py", "logging/handlers.py", "mailbox.py", "netrc.py"),
        *("nturl2path.py", "poplib.py", "smtplib.py", "socketserver.py", "urllib/error.py"),
        *("urllib/request.py", "urllib/response.py", "urllib/robotparser.py", "wsgiref", "xmlrpc"),
        # Kinds of file, and kinds of data, that no calculator reads or makes.
        *("_markupbase.py", "colorsys.py", "configparser.py", "filecmp.py", "gettext.py"),
        *("graphlib.py", "html", "mimetypes.py", "plistlib.py", "secrets.py", "shelve.py"),
        *("statistics.py", "tomllib", "uuid.py", "wave.py", "xml", "zoneinfo"),
        # Written in Python for where the same in C is missing.
        *("_pydatetime.py", "_pyio.py"),
    }
)

# What text is written in here, and the names of files in a zip file: all other alphabets go.
ENCODINGS = "encodings/"
ENCODINGS_KEPT = frozenset(
    {
        *("__init__", "aliases", "ascii", "cp437", "idna", "latin_1", "raw_unicode_escape"),
        *("unicode_escape", "utf_16", "utf_16_be", "utf_16_le", "utf_32", "utf_32_be"),
        *("utf_32_le", "utf_8", "utf_8_sig"),
    }
)


def leave_out(library: Path) -> None:
    """Write the library again without them. The same library gives the same bytes."""
    with zipfile.ZipFile(library) as old:
        parts = [(each, old.read(each)) for each in old.infolist() if is_kept(each.filename)]
    with zipfile.ZipFile(library, "w") as new:
        for each, content in parts:
            new.writestr(each, content, zipfile.ZIP_DEFLATED, 9)


def is_kept(name: str) -> bool:
    """Whether a file of the library, by its place there, goes to the browser."""
    if name.startswith(ENCODINGS):
        return name.removeprefix(ENCODINGS).removesuffix(".py") in ENCODINGS_KEPT
    steps = name.split("/")
    return not any("/".join(steps[:end]) in LEFT_OUT for end in range(1, len(steps) + 1))
