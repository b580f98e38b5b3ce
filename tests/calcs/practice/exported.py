"""One paper in each form that a platform takes, and its questions."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from functools import cache

from calcs.practice import put
from calcs.practice.draw import Question
from calcs.practice.exports import forms
from tests.calcs.practice.held import held, pack

SEED, EDITION = "7", "2026-11-28 abc1234"


@cache
def exported(form: str) -> bytes:
    paper = forms.drawn(held()["whole_visit"], SEED, EDITION, pack())
    return forms.FORMS[form][1](paper)


@cache
def files(form: str) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(exported(form))) as package:
        assert package.testzip() is None
        return {name: package.read(name) for name in package.namelist()}


@cache
def found() -> dict[str, Question]:
    """The questions of the paper, by the id that they have outside."""
    drawn = forms.drawn(held()["whole_visit"], SEED, EDITION, pack()).found
    return {f"q{number:02}_{each.id}": each for number, each in enumerate(drawn, start=1)}


def numbers() -> Iterator[tuple[str, Question]]:
    return ((name, each) for name, each in found().items() if each.asks in put.NUMBERS)
