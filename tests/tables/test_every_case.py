"""Many cases in one test: what fails is told by its name, and the others are tried all the same."""

from __future__ import annotations

import inspect
from typing import Any

import pytest

from tests.every_case import every_case, every_case_of


def told(failed: BaseExceptionGroup[BaseException]) -> list[str]:
    return [note for each in failed.exceptions for note in each.__notes__]


def test_each_case_that_fails_is_told_by_its_name_and_the_rest_are_tried():
    tried = []

    @every_case(("left", "right"), [(1, 1), pytest.param(1, 2, id="not so"), (3, 3), (4, 5)])
    def same(left: int, right: int, fixture: str) -> None:
        tried.append((left, fixture))
        assert left == right

    assert [*inspect.signature(same).parameters] == ["fixture"]
    with pytest.raises(BaseExceptionGroup) as failed:
        same(fixture="given")
    assert told(failed.value) == ["Case not so", "Case (4, 5)"]
    assert tried == [(1, "given"), (1, "given"), (3, "given"), (4, "given")]


def test_a_refusal_that_does_not_come_is_told_too():
    @every_case("text", ["1", "no number"])
    def refused(text: str) -> None:
        with pytest.raises(ValueError, match="invalid literal"):
            int(text)

    with pytest.raises(BaseExceptionGroup) as failed:
        refused()
    assert told(failed.value) == ["Case '1'"]


def test_there_is_a_test_of_each_group_with_its_own_cases():
    @every_case_of("word", ["ab", "ac", "bc"], of=lambda word: word[0], ids=str.upper)
    def ends_in_b(word: str) -> None:
        assert word.endswith("b")

    [mark] = ends_in_b.pytestmark
    groups: list[Any] = mark.args[1]
    assert [one.id for one in groups] == ["a", "b"]
    for group, failing in zip(groups, (["Case AC"], ["Case BC"]), strict=True):
        with pytest.raises(BaseExceptionGroup) as failed:
            ends_in_b(*group.values)
        assert told(failed.value) == failing


def test_a_test_of_no_case_is_a_fault():
    for made in (
        lambda: every_case("text", []),
        lambda: every_case_of("text", [], of=str, ids=str),
    ):
        with pytest.raises(ValueError, match="No case of 'text'"):
            made()
