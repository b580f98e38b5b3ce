"""A paper as plain text, for the command line."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from calcs.practice.put import LETTERS

WIDTH = 88


def told(about: str, made: Any, edition: str) -> str:
    """What `paper_reply` gives for a request, in lines."""
    if about == "papers":
        return "\n".join(f"{each['id']:24}{each['title']}" for each in made)
    if about == "class":
        return "\n".join(f"{number:2}  {seed}" for number, seed in enumerate(made["seeds"], 1))
    return text_of(made, edition)


def text_of(paper: Mapping[str, Any], edition: str) -> str:
    """A paper; with its answers where it has them.

    Args:
        paper: What `paper_reply` gives for `paper` or `paper_key`.
        edition: Of the handbook that it was drawn with.
    """
    unsafe = " and no unsafe choice" if paper["no_unsafe"] else ""
    to_pass = f"{paper['needed']} marks ({paper['percent']} %){unsafe}"
    lines = [
        f"{paper['title']}. Seed {paper['seed']}. Edition {edition}.",
        f"{paper['questions']} questions, {paper['of']} marks. To pass: {to_pass}.",
        f"If a time is kept: {paper['minutes']} minutes.",
    ]
    for number, one in enumerate(paper["asked"], start=1):
        lines += ["", *_question(number, one), *_key(one)]
    return "\n".join(lines)


def marks_text(of: int) -> str:
    """How many marks, in words.

    >>> marks_text(1), marks_text(3)
    ('1 mark', '3 marks')
    """
    return f"{of} mark" if of == 1 else f"{of} marks"


def _question(number: int, one: Mapping[str, Any]) -> Iterator[str]:
    head = f"{number}. {one['stem']} [{marks_text(one['of'])}]"
    yield from textwrap.wrap(head, WIDTH, subsequent_indent="   ")
    if "drawing" in one:
        yield from _indented(one["drawing"]["words"])
    for letter, item in zip(LETTERS, one["items"], strict=False):
        yield from _indented(f"{letter}  {item['text']}")


def _key(one: Mapping[str, Any]) -> Iterator[str]:
    if "answer" not in one:
        return
    answers = one["answer"] if isinstance(one["answer"], list) else [one["answer"]]
    texts = [item["text"] for item in one["items"]]
    for answer in answers:
        letter = f"{LETTERS[texts.index(answer)]}  " if answer in texts else ""
        yield from _indented(f"-> {letter}{answer}")
    for line in one["working"] or ():
        mark = "[1] " if line["name"] in one["marked"] and len(one["marked"]) > 1 else "    "
        said = f"{line['label']} = {line['symbols']} = {line['numbers']} = {line['result']}"
        yield from _indented(f"{mark}{said}")
    for text in (one["sum"], one["pairs"]):
        yield from _indented(text) if text else ()
    for text in one["unsafe"]:
        yield from _indented(f"Unsafe: {text}")


def _indented(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="   ", subsequent_indent="      ")
