"""Which figures, tables and limits of hosts were looked at, while something was made from them.

What passed rests on those alone: another value of any other leaves it as it was.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from build_tools.sources.passed import hashed

VALUES = "values"  # of a figure or a table: all that a host fills in stands in them
PARTS = ("figures", "tables")  # of a bundle
LIMITS = "limits"
ALL = ""  # in place of a name: the whole was looked at


class Watch:
    """Notes what is looked at.

    Args:
        bundle: The figures and tables, as the build packs them.
        limits: Those of hosts, by the figure that each is tighter than.
    """

    def __init__(self, bundle: Mapping[str, Any], limits: Mapping[str, Any] | None = None) -> None:
        self.seen: set[str] = set()
        self._bundle = bundle
        self._limits = limits or {}
        self._said: dict[str, str] = {}

    def beside(self) -> dict[str, Any]:
        """All of the bundle but the values that are watched."""
        heads = {
            part: {
                name: {key: each for key, each in held.items() if key != VALUES}
                for name, held in self._bundle[part].items()
            }
            for part in PARTS
        }
        return {**self._bundle, **heads}

    def over(self, bundle: Mapping[str, Any]) -> dict[str, Any]:
        """A bundle that says the same, and is watched."""
        watched = {
            part: {
                name: Watched(held, self._noting(f"{part}/{name}"))
                for name, held in bundle[part].items()
            }
            for part in PARTS
        }
        return {**bundle, **watched}

    def over_limits(self) -> Mapping[str, Any]:
        """The limits of hosts, watched."""
        return Watched(self._limits, lambda name: self.seen.add(f"{LIMITS}/{name}"))

    def _noting(self, name: str) -> Callable[[str], None]:
        return lambda key: self.seen.add(name) if key == VALUES else None

    @property
    def every(self) -> set[str]:
        """The names of all that is watched, as where all of it was looked at."""
        return {f"{part}/{name}" for part in PARTS for name in self._bundle[part]} | {f"{LIMITS}/"}

    def said(self, name: str) -> str:
        """A hash of what stands under a name that was seen; empty where nothing does."""
        if name not in self._said:
            part, _, key = name.partition("/")
            held = self._limits if part == LIMITS else self._bundle.get(part, {})
            found = held if key == ALL else held.get(key, {})
            what = found.get(VALUES) if part in PARTS else found
            self._said[name] = hashed(json.dumps(what, ensure_ascii=False))
        return self._said[name]


class Watched(Mapping[str, Any]):
    """What tells of each key that is asked for, those with it that are not there.

    No `dict`: what is made from one in Python's own code may pass over its methods.
    """

    def __init__(self, held: Mapping[str, Any], tell: Callable[[str], None]) -> None:
        self._held = held
        self._tell = tell

    def __getitem__(self, key: str) -> Any:
        self._tell(key)
        return self._held[key]

    def __iter__(self) -> Iterator[str]:
        self._tell(ALL)
        return iter(self._held)

    def __len__(self) -> int:
        self._tell(ALL)
        return len(self._held)
