"""What each calculator of calcs declares, in the plain form that the rules compare with."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

RETURNS = re.compile(r"^\s*Returns:\n(?P<lines>.*?)(?:\n\s*\n|\Z)", re.DOTALL | re.MULTILINE)
NAME_LINE = re.compile(r"^\s+(?P<name>[a-z][a-z0-9_]*): ", re.MULTILINE)


@dataclass(frozen=True)
class Declared:
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
    tables: dict[str, tuple[str, ...]] = field(default_factory=dict)
    charts: dict[str, tuple[str, ...]] = field(default_factory=dict)
    uses: tuple[str, ...] = ()
    defaults: dict[str, str] = field(default_factory=dict)  # record to the unit of its input
    sources: tuple[str, ...] = ()
    measures: dict[str, str] = field(default_factory=dict)  # instrument input to what it measures


def from_registry() -> dict[str, Declared]:
    """The declarations of every calculator there is.

    Raises:
        Exception: A file of calcs can't be imported; whatever Python says of it.
    """
    # Imported here so that data and content can be checked while calcs is half written.
    from calcs.engine.registry import all_inputs, calculators  # noqa: PLC0415

    return {name: _declared(each, all_inputs(each)) for name, each in calculators().items()}


def _declared(calculator: Any, inputs: Iterable[Any]) -> Declared:
    listed = list(inputs)
    outputs = tuple(output.name for output in calculator.outputs)
    returned = _returned(calculator.formula.__doc__ or "")
    return Declared(
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
        tables={
            table.name: tuple(column.name for column in table.columns)
            for table in calculator.tables
        },
        charts={chart.name: chart.series for chart in calculator.charts},
        uses=calculator.uses,
        defaults={each.default: each.unit for each in _figures(listed) if each.default},
        sources=tuple(cite.id for cite in calculator.sources),
        measures={each.name: each.measures for each in listed if hasattr(each, "measures")},
    )


def _figures(inputs: Iterable[Any]) -> list[Any]:
    """Inputs whose default is the name of a record: quantities, in a table or out of one."""
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
