"""The cross-check over thousands of generated visits: how often it names what is wrong.

The study is the tests' own, with formulas of its own for what is read. Beside each answer stands
the plain way to find it, the largest residual, on the same visits: the ratio of the two is judged.
"""

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.bench.measurement import Figure
from build_tools.setup.paths import ROOT

STUDY = "tests.calcs.domain.cross_check.full_study"
KINDS = ("strong fault", "mild fault")
FIRST, PLAINLY = "first", "first by the largest residual"


def measure(study: str = STUDY) -> Iterator[Figure]:
    """What comes first, against what the largest residual names, with the rest of the study."""
    done = subprocess.run(
        [sys.executable, "-m", study], cwd=ROOT, capture_output=True, text=True, check=True
    )
    told = [json.loads(line) for line in done.stdout.splitlines()]
    yield from figures(told)


def figures(told: list[Mapping[str, Any]]) -> Iterator[Figure]:
    """The figures of a study: of each kind of fault one, and all that was found under the last."""
    known = {each["of"]: each["found"] for each in told}
    for kind in KINDS:
        found = known[kind]
        yield Figure(
            kind="told apart",
            ratio=found[FIRST] / found[PLAINLY],
            told=f"{found[FIRST]:.1%} first",
            of=kind,
            detail=tuple(map(line, told)) if kind == KINDS[-1] else (),
        )


def line(each: Mapping[str, Any]) -> str:
    """One part of the study in words; what misses what is asked of it is marked."""
    parts = [
        f"{name} {found:.3f}{mark(found, each['asked'].get(name, {}))}"
        for name, found in each["found"].items()
    ]
    return f"{each['of']}: {', '.join(parts)}"


def mark(found: float, asked: Mapping[str, float | None]) -> str:
    """What is asked, and whether it is missed; nothing where nothing is asked."""
    least, most = asked.get("least"), asked.get("most")
    if least is None and most is None:
        return ""
    ends = [f"least {least}"] if least is not None else []
    ends += [f"most {most}"] if most is not None else []
    is_missed = (least is not None and found < least) or (most is not None and found > most)
    return f" ({'MISSED, ' if is_missed else ''}asked: at {' and at '.join(ends)})"
