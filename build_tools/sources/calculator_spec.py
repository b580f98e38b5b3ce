"""What each calculator of calcs declares, in the plain form that the rules compare with."""

import re
import traceback
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from build_tools.setup.paths import ROOT

# Where authors write. The other files of calcs are the engine.
WRITTEN = ("calcs/calculators/", "calcs/domain/", "calcs/charts/")

RETURNS = re.compile(r"^\s*Returns:\n(?P<lines>.*?)(?:\n\s*\n|\Z)", re.DOTALL | re.MULTILINE)
NAME_LINE = re.compile(r"^\s+(?P<name>[a-z][a-z0-9_]*): ", re.MULTILINE)


@dataclass(frozen=True)
class CalculatorSpec:
    """Every name that the words, the tables and the data must fit.

    `inputs` and `columns` map a name to the options it offers; an input with no options offers
    none. `steps` are what the formula returns beside its outputs.
    """

    inputs: dict[str, tuple[str, ...]] = field(default_factory=dict)
    columns: dict[str, dict[str, tuple[str, ...]]] = field(default_factory=dict)
    outputs: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    verdicts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    rulings: tuple[str, ...] = ()
    refusals: tuple[str, ...] = ()
    tables: dict[str, tuple[str, ...]] = field(default_factory=dict)
    charts: dict[str, tuple[str, ...]] = field(default_factory=dict)
    uses: tuple[str, ...] = ()
    defaults: dict[str, str] = field(default_factory=dict)  # figure to the unit of its input
    sources: tuple[str, ...] = ()
    measures: dict[str, str] = field(default_factory=dict)  # instrument input to what it measures
    units: dict[str, str] = field(default_factory=dict)  # input or column to the unit it is read in


@dataclass(frozen=True)
class Failure:
    """A calculator that can't be loaded: where in calcs it broke off, and what Python says."""

    calculator: str  # its stem, or nothing where the engine itself can't be loaded
    file: str
    line: int
    message: str


def from_registry() -> tuple[dict[str, CalculatorSpec], tuple[Failure, ...]]:
    """The declarations of every calculator that can be loaded, and why the others can't."""
    # Imported here so that data and content can be checked while calcs is half written.
    try:
        from calcs.engine import registry  # noqa: PLC0415
    except Exception as problem:  # noqa: BLE001  a half-written file may raise anything
        return {}, (failure_of("", problem),)
    found, failures = {}, []
    for name in registry.names():
        try:
            calculator = registry.load(name)
            found[name] = _declared(calculator, registry.all_inputs(calculator))
        except Exception as problem:  # noqa: BLE001  a half-written calculator may raise anything
            failures.append(failure_of(name, problem))
    return found, tuple(failures)


def failure_of(calculator: str, problem: BaseException) -> Failure:
    """Where in the files of an author it went wrong: the last of them that Python was in.

    The engine raises what a calculator did. So the engine's own files count only where no other
    file of calcs is on the way.
    """
    message = " ".join(str(problem).split()) or "no more is said"
    if isinstance(problem, SyntaxError) and problem.filename and _in_calcs(problem.filename):
        file, line = _in_calcs(problem.filename), problem.lineno or 1
        return Failure(calculator, file, line, f"{type(problem).__name__}: {problem.msg}")
    frames = [
        (_in_calcs(frame.filename), frame.lineno or 1)
        for frame in traceback.extract_tb(problem.__traceback__)
    ]
    ours = [frame for frame in frames if frame[0]]
    written = [frame for frame in ours if frame[0].startswith(WRITTEN)]
    own = f"calcs/calculators/{calculator}.py" if calculator else "calcs/engine/registry.py"
    file, line = (written or ours or [(own, 1)])[-1]
    if not written and calculator:
        file, line = own, 1
    return Failure(calculator, file, line, f"{type(problem).__name__}: {message}")


def _in_calcs(path: str) -> str:
    """The name of a file of calcs from the root; empty for any other."""
    try:
        name = Path(path).resolve().relative_to(ROOT).as_posix()
    except ValueError:
        return ""
    return name if name.startswith("calcs/") else ""


def _declared(calculator: Any, inputs: Iterable[Any]) -> CalculatorSpec:
    listed = list(inputs)
    outputs = tuple(output.name for output in calculator.outputs)
    returned = _returned(calculator.formula.__doc__ or "")
    return CalculatorSpec(
        inputs={each.name: _options(each) for each in listed},
        columns={
            each.name: {column.name: _options(column) for column in each.columns}
            for each in listed
            if hasattr(each, "columns")
        },
        outputs=outputs,
        steps=tuple(name for name in returned if name not in outputs),
        verdicts=calculator.verdicts,
        notes=calculator.notes,
        rulings=calculator.rulings,
        refusals=calculator.refusals,
        tables={
            table.name: tuple(column.name for column in table.columns)
            for table in calculator.tables
        },
        charts={chart.name: chart.series for chart in calculator.charts},
        uses=calculator.uses,
        defaults={each.default: each.unit for each in _figures(listed) if each.default},
        sources=tuple(cite.id for cite in calculator.sources),
        measures={each.name: each.measures for each in listed if hasattr(each, "measures")},
        units={each.name: each.unit for each in _figures(listed) if not each.any_kind},
    )


def _figures(inputs: Iterable[Any]) -> list[Any]:
    """Inputs whose default is the name of a figure: quantities, in a table or out of one."""
    flat = [each for item in inputs for each in getattr(item, "columns", (item,))]
    return [each for each in flat if hasattr(each, "read_with")]


def _options(item: Any) -> tuple[str, ...]:
    if hasattr(item, "measures"):
        return ("own",)  # the others are titles in data/instruments.yaml
    return tuple(getattr(item, "options", ()))


def _returned(docstring: str) -> list[str]:
    """Names in the `Returns` part of a formula's docstring."""
    found = RETURNS.search(docstring)
    return NAME_LINE.findall(found["lines"]) if found else []
