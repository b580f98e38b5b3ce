"""One test of many cases, each of which is tried in a moment.

A test of its own costs some milliseconds in every worker: it is collected, told and counted. With
thousands of them that comes to more than what they try. A case that fails is told with its name,
and the others are tried all the same.
"""

from __future__ import annotations

import inspect
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from typing import Any

import pytest

Decorator = Callable[[Callable[..., None]], Any]


def every_case(
    names: str | tuple[str, ...], cases: Iterable[Any], ids: Callable[[Any], str] | None = None
) -> Decorator:
    """As `pytest.mark.parametrize` takes them. Fixtures are shared by all cases.

    Raises:
        ValueError: There is no case. A test of none would pass.
    """
    wanted = tuple(each.strip() for each in names.split(",")) if isinstance(names, str) else names
    named = [(_name(case, ids), _values(wanted, case)) for case in cases]
    if not named:
        raise ValueError(f"No case of {names!r} is given")

    def made(test: Callable[..., None]) -> Any:
        @wraps(test)
        def tried(**fixtures: Any) -> None:
            try_each(named, lambda values: test(**values, **fixtures))

        return _taking(tried, test, wanted)

    return made


def every_case_of(
    name: str, cases: Iterable[Any], *, of: Callable[[Any], str], ids: Callable[[Any], str]
) -> Decorator:
    """The same with one test for each of what the cases are `of`, such as their calculator.

    Raises:
        ValueError: There is no case.
    """
    groups: dict[str, list[tuple[str, Any]]] = defaultdict(list)
    for case in cases:
        groups[of(case)].append((ids(case), case))
    if not groups:
        raise ValueError(f"No case of {name!r} is given")

    def made(test: Callable[..., None]) -> Any:
        @wraps(test)
        def tried(own: Sequence[tuple[str, Any]], **fixtures: Any) -> None:
            try_each(own, lambda case: test(**{name: case}, **fixtures))

        grouped = [pytest.param(own, id=group) for group, own in groups.items()]
        taking = _taking(tried, test, (name,), "own")
        return pytest.mark.parametrize("own", grouped)(taking)

    return made


def try_each(named: Iterable[tuple[str, Any]], test: Callable[[Any], None]) -> None:
    """Tries all of them, and tells all that fail."""
    failed: list[BaseException] = []
    for name, case in named:
        with _failure_told(name, failed):
            test(case)
    if failed:
        raise BaseExceptionGroup("Not so of every case", failed)


@contextmanager
def _failure_told(name: str, failed: list[BaseException]) -> Iterator[None]:
    try:
        yield
    except (Exception, pytest.fail.Exception) as fault:  # noqa: BLE001  told with the others
        fault.add_note(f"Case {name}")
        failed.append(fault)


def _values(names: tuple[str, ...], case: Any) -> dict[str, Any]:
    is_marked = isinstance(case, tuple) and hasattr(case, "marks")  # of `pytest.param`
    values = case.values if is_marked else case if len(names) > 1 else (case,)
    return dict(zip(names, values, strict=True))


def _name(case: Any, ids: Callable[[Any], str] | None) -> str:
    return ids(case) if ids else str(getattr(case, "id", "") or repr(case))


def _taking(tried: Any, test: Any, without: tuple[str, ...], *first: str) -> Any:
    """The test with the signature that pytest reads for fixtures."""
    takes = inspect.signature(test)
    own = [inspect.Parameter(name, inspect.Parameter.POSITIONAL_OR_KEYWORD) for name in first]
    fixtures = [one for name, one in takes.parameters.items() if name not in without]
    tried.__signature__ = takes.replace(parameters=[*own, *fixtures])
    return tried
