"""A source without its docstrings is the same program, line by line."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from build_tools.runtime.docstrings import without_docstrings

CLASS = """\
'''Says.

More.
'''
class A:
    '''Says.'''
    def f(self):
        'says'
        return 1
"""
# Each with what is left of it, spaces at the ends of lines apart.
WHERE = {
    "a module, a class, its function": (
        CLASS,
        "\n\n\n\nclass A:\n\n    def f(self):\n\n        return 1\n",
    ),
    "nothing else in it": ("class A(B):\n    '''Says.'''\n", "class A(B):\n    pass\n"),
    "on the line of its name": ("class A: 'é'\n", "class A: pass\n"),
    "before another on its line": ("def f():\n    'é'; x = 1\n", "def f():\n    pass; x = 1\n"),
    "with a remark behind it": ("'''é\n'''  # so\nx = 1\n", "  # so\n\nx = 1\n"),
    "a text that is none": ("x = '''\nsays\n'''\n'no'\n", "x = '''\nsays\n'''\n'no'\n"),
    "lines that end as on Windows": ("'''Says.\r\n'''\r\nx = 1\r\n", "\n\nx = 1\n"),
}


@pytest.mark.parametrize(("source", "left"), WHERE.values(), ids=WHERE)
def test_docstrings_go_and_every_line_keeps_its_number(source: str, left: str):
    found = without_docstrings(source.encode())
    assert [line.rstrip() for line in found.split("\n")] == left.split("\n")
    ast.parse(found)


def test_what_a_formula_says_of_itself_is_kept_where_it_is_asked_for():
    source = b'"""File."""\ndef gas_rate():\n    """Heat."""\ndef other():\n    """Not."""\n'
    found = without_docstrings(source, "gas_rate")
    assert [part in found for part in ("File.", "Heat.", "Not.")] == [False, True, False]


def test_a_long_source_is_the_same_program_without_them():
    source = Path(ast.__file__).read_bytes()
    tree = ast.parse(source)
    documented = ast.Module | ast.ClassDef | ast.FunctionDef
    for node in ast.walk(tree):
        if isinstance(node, documented) and ast.get_docstring(node) is not None:
            node.body = node.body[1:] or [ast.Pass()]
    assert ast.dump(ast.parse(without_docstrings(source))) == ast.dump(tree)
