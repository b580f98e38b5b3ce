"""What a formula refuses has words, wherever it may come to refuse it.

Which refusals a calculator can come to is read off the code: from its declaration on, every name
that stands for a function, a class or a constant of calcs is followed into its file.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

import pytest

from build_tools.setup.paths import ROOT
from build_tools.sources.rules.placeholder_known import PLACEHOLDER
from build_tools.sources.rules.refusal_declared import REFUSALS
from calcs.bridge import Bridge
from calcs.engine.errors import Impossible, InputName, Missing
from calcs.engine.registry import all_inputs, calculators

THIS = "this"


class Place(NamedTuple):
    """A name at the top of a module of calcs."""

    module: str
    name: str


class Given(NamedTuple):
    """One refusal in the code: its id, and what its words may be filled with."""

    name: str
    values: frozenset[str]


@cache
def code() -> tuple[dict[Place, ast.stmt], dict[str, dict[str, Place]]]:
    """What stands at the top of each module, and what each name there stands for."""
    made: dict[Place, ast.stmt] = {}
    meaning: dict[str, dict[str, Place]] = {}
    for path in sorted((ROOT / "calcs").rglob("*.py")):
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = meaning.setdefault(module, {})
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom):
                for alias in node.names:
                    names[alias.asname or alias.name] = Place(str(node.module), alias.name)
        for statement in tree.body:
            for name in top_names(statement):
                made[Place(module, name)] = statement
                names[name] = Place(module, name)
    return made, meaning


def top_names(statement: ast.stmt) -> Iterator[str]:
    if isinstance(statement, ast.FunctionDef | ast.ClassDef):
        yield statement.name
    elif isinstance(statement, ast.Assign | ast.AnnAssign):
        for node in ast.walk(statement):
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                yield node.id


@cache
def below(place: Place) -> tuple[frozenset[Place], frozenset[Given]]:
    """The places that one place names, and the refusals in it."""
    made, meaning = code()
    nodes = list(ast.walk(made[place]))
    own = {node.arg for node in nodes if isinstance(node, ast.arg)}
    if not isinstance(made[place], ast.Assign | ast.AnnAssign):
        stored = (node for node in nodes if isinstance(node, ast.Name))
        own |= {node.id for node in stored if isinstance(node.ctx, ast.Store)}
    used = {node.id for node in nodes if isinstance(node, ast.Name)} - own
    known = (meaning[place.module].get(name) for name in used)
    calls = [node for node in nodes if isinstance(node, ast.Call)]
    given = {
        Given(str(each.value), frozenset(str(one.arg) for one in call.keywords))
        for call in calls
        if isinstance(call.func, ast.Name) and call.func.id in REFUSALS and len(call.args) > 1
        for each in ast.walk(call.args[1])
        if isinstance(each, ast.Constant)
    }
    return frozenset(one for one in known if one in made), frozenset(given)


def given_by(calculator: str) -> set[Given]:
    """Every refusal that a calculator can come to."""
    waiting = [Place(f"calcs.calculators.{calculator}", "CALCULATOR")]
    seen: set[Place] = set()
    found: set[Given] = set()
    while waiting:
        place = waiting.pop()
        if place not in seen:
            seen.add(place)
            places, given = below(place)
            waiting.extend(places)
            found |= given
    return found


@pytest.mark.parametrize("name", calculators())
def test_a_calculator_declares_every_refusal_that_it_can_come_to_and_no_other(name: str):
    assert {one.name for one in given_by(name)} == set(calculators()[name].refusals)


@pytest.mark.parametrize("name", calculators())
def test_what_stands_in_braces_is_a_value_or_an_input_and_no_value_is_left_out(
    bridge: Bridge, name: str
):
    inputs = {
        one.name
        for item in all_inputs(calculators()[name])
        for one in (item, *getattr(item, "columns", ()))
    }
    said = bridge.reference.sayings(name, "refusals")
    for one in given_by(name):
        braces = set(PLACEHOLDER.findall(said[one.name]))
        assert one.values <= braces, one.name
        assert braces - one.values <= {THIS, *inputs}, one.name


def test_refusals_were_found():
    found = {one.name for name in calculators() for one in given_by(name)}
    assert {"nothing_burns", "outside_table", "round_in_a_ring", "added_length_not_held"} <= found
    assert len(found) > 80


def test_words_name_the_field_other_inputs_and_values():
    words = {"upside_down": "{this} is not below {high}, by {much}. Look at {gas_used} again."}
    labels = {"low": "Minimum", "high": "Maximum", "gas_used": "Gas used"}
    refusal = Impossible(
        "low", "upside_down", high=InputName("high"), much="3\N{NO-BREAK SPACE}mbar"
    )
    told = refusal.as_json(labels, words)
    assert (
        told["message"]
        == "Minimum is not below Maximum, by 3\N{NO-BREAK SPACE}mbar. Look at Gas used again."
    )
    assert told["plain"] == "low: is not below high, by 3 mbar. Look at gas_used again."


def test_without_an_id_the_engine_words_it():
    assert Missing("low").as_json({"low": "Minimum"})["message"] == "Minimum is empty. Enter it."
