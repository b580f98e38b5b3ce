"""What the page of practice teaches the browser's Python: the engine with its questions.

The snapshot holds none of it, nor does the wheel that the ordinary start loads.
"""

from __future__ import annotations

import ast
import base64
import json
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from build_tools.runtime.docstrings import with_docstrings
from build_tools.setup.paths import ROOT

ENGINE = "calcs/practice"
LEFT_OUT = {"paper_text"}  # for the command line alone


def engine(root: Path = ROOT) -> dict[str, str]:
    """Source of each module of the engine, without comments."""
    places = [each for each in root.glob(f"{ENGINE}/**/*.py") if each.stem not in LEFT_OUT]
    named = {".".join(each.relative_to(root).with_suffix("").parts): each for each in places}
    return {name.removesuffix(".__init__"): _bare(named[name]) for name in sorted(named)}


def _bare(path: Path) -> str:
    """Source without docstrings and comments, which nobody reads in a browser."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in with_docstrings(tree):
        node.body = node.body[1:] or [ast.Pass()]
    return ast.unparse(tree)


# A module is compiled where it is first imported: what writes a paper for a platform costs nobody
# anything who asks for none.
PROGRAM = """\
import sys


class _Brought:
    texts = {modules!r}

    @classmethod
    def find_spec(cls, name, path=None, target=None):
        if name in cls.texts:
            is_folder = any(each.startswith(name + ".") for each in cls.texts)
            return type(sys.__spec__)(name, cls, is_package=is_folder)

    @staticmethod
    def create_module(spec):
        return None

    @classmethod
    def exec_module(cls, module):
        name = module.__name__
        exec(compile(cls.texts[name], name, "exec"), module.__dict__)


sys.meta_path.insert(0, _Brought)
from calcs.practice import door

door.load({held!r})
"""


def program(made: Mapping[str, Any], root: Path = ROOT) -> str:
    """What the browser's Python runs to know the questions."""
    asked = {name: each for name, each in made.items() if name != "instead"}  # for a page to read
    held = json.dumps(asked, ensure_ascii=False, separators=(",", ":"))
    return PROGRAM.format(modules=engine(root), held=held)


# What the script holds is a third as large so. Both modules are part of the browser's Python.
UNPACK = "import binascii, zlib\nexec(zlib.decompress(binascii.a2b_base64('{packed}')))\n"


def script(made: Mapping[str, Any], root: Path = ROOT) -> str:
    """The script that brings engine and questions to the page of practice."""
    packed = base64.b64encode(zlib.compress(program(made, root).encode("utf-8"), level=9))
    return f"var HB_PRACTICE={json.dumps(UNPACK.format(packed=packed.decode('ascii')))};\n"
