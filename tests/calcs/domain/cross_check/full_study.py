"""The whole study of the cross-check, in a few minutes: `python -m` with the name of this file.

It prints a figure a line, as JSON: what it is, what was found, and what is asked of it: `least`,
`most` or both. The benchmark runs it too.
"""

import json
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from build_tools.runtime import bundle
from calcs.engine.in_force import InForce
from calcs.engine.reference import Reference
from tests.calcs.domain.cross_check import study

Asked = Mapping[str, tuple[float | None, float | None]]  # the least and the most
SOUND: Asked = {
    "false alarms": (None, 0.06),
    "mean of chi-square over degrees": (0.85, 1.10),
    "called wrong with confidence": (None, 0.01),
}
READING: Asked = {
    "first": (0.85, None), "in two": (0.93, None), "among equally good": (0.90, None),
    "in the set": (0.90, None), "size of the set": (None, 1.6), "confident and wrong": (None, 0.02),
}  # fmt: skip
SET: Asked = {
    name: READING[name] for name in ("in the set", "size of the set", "confident and wrong")
}
STRONG: Asked = {"first": (0.95, None), "in two": (0.97, None), **SET}
MILD: Asked = {"first": (0.82, None), "in two": (0.90, None), **SET}
NOISY: Asked = {"first": (0.93, None)}
PLAINLY = "first by the largest residual"


def figures(ref: InForce) -> Iterator[dict[str, Any]]:
    """Each figure as soon as it is known."""
    yield _told("declared model", {"false alarms": study.declared(10_000, ref)},
                {"false alarms": (0.046, 0.054)})  # fmt: skip
    for at, least in ((4, 0.80), (5, 0.92)):
        power = study.power(4000, at, ref)
        yield _told(f"detectability {at}", {"power": power}, {"power": (least, None)})
    yield _told("sound", study.sound(4000, ref), SOUND)
    heavy = study.sound(2000, ref, heavy=True)
    yield _told("heavy tails", heavy, {"false alarms": (None, 0.08)})
    yield _told("wrong reading", study.judged(study.wrong_readings(2000, 5, 15, ref)), READING)
    for name, strong, asked in (("strong fault", True, STRONG), ("mild fault", False, MILD)):
        yield _told(name, study.judged(study.faulty(2000, strong=strong, ref=ref)), asked)
    noisy = study.judged(study.faulty(2000, strong=True, ref=ref, wider=1.2))
    yield _told("strong fault, noise 1.2 times", noisy, NOISY)
    two = {"both found": study.two_wrong(600, ref)}
    yield _told("two wrong", two, {"both found": (0.85, None)})


def _told(of: str, found: Mapping[str, float], asked: Asked) -> dict[str, Any]:
    ends = {name: dict(zip(("least", "most"), asked[name], strict=True)) for name in asked}
    return {"of": of, "found": found, "asked": ends}


def main() -> None:
    """Print each figure as it comes."""
    ref = InForce(Reference(bundle.make()), date(2026, 11, 25))
    for figure in figures(ref):
        print(json.dumps(figure), flush=True)


if __name__ == "__main__":
    main()
