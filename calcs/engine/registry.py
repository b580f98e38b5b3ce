"""Finds the calculators by file name, and lists their inputs and the words for these."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Mapping
from functools import cache
from typing import Any

from calcs import calculators as folder
from calcs.engine.declarations import (
    STATED,
    AnyInput,
    Calculator,
    Choice,
    Day,
    Input,
    Instrument,
    When,
)
from calcs.engine.reference import Reference
from calcs.engine.units import same_kind

PARTS = 1e6  # in a million: all of it
OWN = "own"  # option of an instrument: resolution and accuracy typed in
BY_VERDICT = "by_verdict"  # each verdict has the rule that it declares
RULES = (BY_VERDICT, "full", "iso_14253", "simple")  # the others: figures decision.guard_<rule>
TEST_DATE = Day("test_date")
DECISION_RULE = Choice("decision_rule", RULES, default=BY_VERDICT)


@cache
def calculators() -> Mapping[str, Calculator]:
    """Every calculator by id, in alphabetical order."""
    return {name: load(name) for name in names()}


def names() -> list[str]:
    """The stem of every file in the folder of calculators."""
    return sorted(module.name for module in pkgutil.iter_modules(folder.__path__))


def load(name: str) -> Calculator:
    """The calculator that one file declares.

    Raises:
        ImportError: Its formula has another name than its file, or it declares nothing.
    """
    module = importlib.import_module(f"{folder.__name__}.{name}")
    declared: Calculator | None = getattr(module, "CALCULATOR", None)
    if declared is None:
        raise ImportError(f"calcs/calculators/{name}.py has no CALCULATOR.")
    if declared.id != name:
        raise ImportError(
            f"calcs/calculators/{name}.py declares a formula named {declared.id!r}. "
            f"Rename the file or the function: they must be the same."
        )
    return declared


@cache
def parameters(calculator: Calculator) -> frozenset[str]:
    """Names of the arguments that the formula takes."""
    return frozenset(inspect.signature(calculator.formula).parameters)


@cache
def all_inputs(calculator: Calculator) -> tuple[AnyInput, ...]:
    """The declared inputs, each instrument with its typed figures, and those every form has."""
    listed: list[AnyInput] = []
    for item in calculator.inputs:
        listed.append(item)
        if isinstance(item, Instrument):
            listed.extend(_own_figures(item))
    names = {item.name for item in listed}
    if TEST_DATE.name not in names:
        listed.append(TEST_DATE)
    if calculator.judge is not None:
        listed.append(DECISION_RULE)
    return tuple(listed)


def _own_figures(item: Instrument) -> list[Input]:
    # A step in percent is one of an instrument that counts in shares. No gauge has steps of 1 %.
    steps = tuple(unit for unit in item.also if item.any_kind or same_kind(unit, item.unit))
    # Of an accuracy in parts in a million, percent is a share of the reading and may be any.
    is_share = "percent" in item.also and same_kind("percent", item.unit)
    highest = {"resolution": item.high, "accuracy": PARTS if is_share else item.high}
    return [
        Input(
            f"{item.name}_{figure}",
            item.unit,
            low=0,
            high=highest[figure],
            also=steps if figure == "resolution" else item.also,
            when=When(item.name, (OWN,)),
            any_kind=item.any_kind,
            uncertainty=STATED,
        )
        for figure in ("resolution", "accuracy")
    ]


def labels(calculator: Calculator, reference: Reference) -> dict[str, str]:
    """Words for every input, output and step. Those of a column give way to the others."""
    key = ("labels", calculator.id)
    if key not in reference.kept:
        reference.kept[key] = _labels(reference.words(calculator.id))
    found: dict[str, str] = reference.kept[key]
    return found


def _labels(words: Mapping[str, Any]) -> dict[str, str]:
    found: dict[str, str] = {}
    for group in ("outputs", "inputs"):
        found.update({name: text["label"] for name, text in words.get(group, {}).items()})
    columns = _column_labels(words.get("inputs", {}))
    return {**columns, **words.get("steps", {}), **found}


def _column_labels(inputs: Mapping[str, Any]) -> dict[str, str]:
    """Labels of the columns of tables: by name, and as `table[].column` where names may clash."""
    found: dict[str, str] = {}
    for table, own in inputs.items():
        for name, text in own.get("columns", {}).items():
            found[name] = found[f"{table}[].{name}"] = text["label"]
    return found


def label_of(words: Mapping[str, str], name: str, otherwise: str | None = None) -> str:
    """Words for a name; `flow_2` is the words for `flow` and the number."""
    if name in words:
        return words[name]
    stem, _, number = name.rpartition("_")
    if number.isdigit() and stem in words:
        return f"{words[stem]} {number}"
    return otherwise or name.replace("_", " ")
