"""One visit put together: its conditions, the uncertainty of each error, and what may be wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calcs.domain.cross_check.balance import Balance, Errors
from calcs.domain.cross_check.ranking import Prior
from calcs.domain.cross_check.relations import (
    Bound,
    Sheet,
    apart,
    bound,
    condition,
    corrected,
    size_of,
)
from calcs.domain.cross_check.signature import Signature
from calcs.domain.pipes.pipe_flow import natural_log

TOWARDS_AIR = "towards_air"
WHICH = ("kind", "only", "hidden", "shown_by")


@dataclass(frozen=True)
class Written:
    """A signature as data says it: how far its errors go depends on the readings.

    Args:
        signature: Its name, family, sizes and weight; no errors yet.
        errors: By name, a multiple, or `TOWARDS_AIR`.
        kind: "reading" or "fault".
        only: Kind of burner that it may be of; empty for each.
        hidden: Kind of burner of which nothing fits while it can't show; empty for none.
        shown_by: The reading that shows it.
        is_shown_alone: Whether one gauge, the plate or one display shows it, however coarse all
            instruments are.
    """

    signature: Signature
    errors: Mapping[str, str]
    kind: str
    only: str
    hidden: str = ""
    shown_by: str = ""
    is_shown_alone: bool = False


@dataclass(frozen=True)
class Allowances:
    """Uncertainties and signatures as data says them, read once.

    Args:
        shares: Standard uncertainty of each error that is a share, or in SI base units.
        instruments: By the name of an error, the instrument whose accuracy it is.
    """

    shares: Errors
    instruments: Mapping[str, str]
    written: tuple[Written, ...]
    prior: Prior


class Case:
    """The readings of a visit, ready to be tested.

    Args:
        sheet: What was read.
        allowances: What data allows for.
        accuracies: By the name of an instrument, its standard uncertainty as a share of a reading.
    """

    def __init__(self, sheet: Sheet, allowances: Allowances, accuracies: Errors) -> None:
        self.sheet, self.allowances, self.accuracies = sheet, allowances, accuracies
        self.bound: list[Bound] = list(bound(sheet))
        plain = [condition(sheet, one) for one in self.bound]
        self.conditions, self.uncertainties = apart(plain, self._declared())
        self.balance = Balance(self.conditions, self.uncertainties)

    def _declared(self) -> dict[str, float]:
        """Standard uncertainty of every error that a condition has."""
        known = {**self.allowances.shares}
        for error, instrument in self.allowances.instruments.items():
            known[error] = self.accuracies.get(instrument, 0.0)
        for name, about in self.sheet.rules.quantities.items():
            if name in self.sheet.read:
                read = self.sheet.read[name]
                scale = abs(read.value) if about.log else 1.0
                known[name] = read.uncertainty / scale if scale else 0.0
        return known

    @property
    def is_enough(self) -> bool:
        """Whether any relation is there that says something of the appliance by itself."""
        return any(not one.relation.weak for one in self.bound)

    @cached_property
    def signatures(self) -> list[Signature]:
        """What may be wrong with such an appliance and is in what was read."""
        known = {name for one in self.conditions for name in one.slopes}
        return [
            Signature(
                one.signature.name,
                one.signature.family,
                errors,
                one.signature.low,
                one.signature.high,
                one.signature.both_ways,
                one.signature.exact,
                one.signature.weight,
            )
            for one in self.allowances.written
            if one.only in ("", self.sheet.burner) and (errors := dict(self._errors(one, known)))
        ]

    def _errors(self, written: Written, known: set[str]) -> Iterator[tuple[str, float]]:
        for name, times in written.errors.items():
            if name in known:
                size = self._towards_air(name) if times == TOWARDS_AIR else float(times)
                if size:
                    yield name, size

    def _towards_air(self, name: str) -> float:
        """How far a reading moves when as much air as sample comes in."""
        read = self.sheet.read
        if name not in read or (name.startswith("flue") and "air_temperature" not in read):
            return 0.0
        if name.startswith("oxygen"):
            return read["air_oxygen"].value - read[name].value
        if name.startswith("flue"):
            return read["air_temperature"].value - read[name].value
        return -read[name].value

    def corrected(self, errors: Errors, size: float) -> list[float] | None:
        """Misfits with an error of that size taken out, worked out anew where that bends."""
        whole = {name: times * size for name, times in errors.items()}
        return corrected(self.sheet, self.bound, self.conditions, whole)


def allowances_of(data: Mapping[str, Any]) -> Allowances:
    """What `data/cross_check/` allows for, in the shape used here."""
    shares: dict[str, float] = {}
    instruments: dict[str, str] = {}
    for name, one in data["errors"].items():
        if "instrument" in one:
            instruments[name] = one["instrument"]
        else:
            shares[name] = size_of(one.get("share") or one["size"])
    said = data["signatures"]
    return Allowances(
        shares=shares,
        instruments=instruments,
        written=tuple(_written(name, one) for name, one in said["signatures"].items()),
        prior=Prior(size_of(said["wrong"]["share"]), float(said["unlisted"]["weight"])),
    )


def _written(name: str, one: Mapping[str, Any]) -> Written:
    low, high = (_logarithm(one[key]) if key in one else 0.0 for key in ("least", "most"))
    signature = Signature(
        name=name,
        family=one["family"],
        errors={},
        low=low,
        high=high,
        both_ways=one.get("both_ways") == "yes",
        exact=tuple(natural_log(float(factor)) for factor in one.get("exact", ())),
        weight=float(one["weight"]),
    )
    kind, only, hidden, shown_by = (one.get(key, "") for key in WHICH)
    is_shown_alone = one.get("by_itself") == "yes"
    return Written(signature, one["errors"], kind, only, hidden, shown_by, is_shown_alone)


_BY_SHARE = "percent"


def _logarithm(text: str) -> float:
    """A size as errors count it: a share moves the logarithm of what it is a share of."""
    size = size_of(text)
    return natural_log(1 + size) if text.endswith(_BY_SHARE) else size
