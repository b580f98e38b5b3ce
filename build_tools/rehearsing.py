"""Makes the pages once for nothing, so that what is worked out from each text is at hand."""

from collections.abc import Callable
from functools import partial

from build_tools import site  # noqa: F401  with all that closes a site
from build_tools.pages import collect
from build_tools.project import load
from build_tools.rules import Rule, rules


def rehearse(until: Callable[[], bool]) -> None:
    """Read, check and make all, and keep none of the pages.

    Args:
        until: Whether to stop before the next part, because a build is asked for.
    """
    checks = (partial(_check, rule) for rule in rules())
    for part in (load, *checks, collect.handbook):
        if not until():
            part()


def _check(rule: Rule) -> None:
    list(rule.check(load()))
