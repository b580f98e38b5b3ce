"""Gives each reading the uncertainty of its instrument, and each estimate its own."""

from __future__ import annotations

from typing import Any

from calcs.engine.declarations import AnyInput, Choice, Input, Instrument, Rows
from calcs.engine.given import Given
from calcs.engine.own_instruments import figure_of
from calcs.engine.registry import OWN
from calcs.engine.traced import Traced, named
from calcs.engine.uncertainty import ratio_uncertainty, read_by
from calcs.engine.units import parse_quantity, same_kind


def add_uncertainty(inputs: tuple[AnyInput, ...], given: Given) -> None:
    """Give each reading the uncertainty of the instrument that took it, each estimate its own."""
    for item in inputs:
        if isinstance(item, Instrument):
            _instrument_figures(item, given)
    for item in inputs:
        if isinstance(item, Input):
            _give(item, given.values.get(item.name), given)
        if isinstance(item, Rows):
            for row in given.values.get(item.name) or ():
                for column in item.columns:
                    _give(column, row.get(column.name), given)


def _give(item: Input | Choice, value: Any, given: Given) -> None:
    if not (isinstance(item, Input) and isinstance(value, Traced) and value.role == "input"):
        return
    ratio = given.values.get(item.good_to) if item.good_to else None
    if ratio is not None:
        value.standard_uncertainty = ratio_uncertainty(value, ratio)
    instrument = item.read_with
    if instrument is None:
        return
    resolution = given.values[f"{instrument}_resolution"]
    accuracy = given.values[f"{instrument}_accuracy"]
    read_by(value, instrument, resolution, accuracy)


def _instrument_figures(item: Instrument, given: Given) -> None:
    """Put the figures of the instrument chosen where a typed resolution and accuracy would be."""
    name, chosen = item.name, given.values.get(item.name)
    step = given.values.get(f"{name}_resolution")
    is_ratio = same_kind("percent", item.unit)
    if chosen == OWN and step is not None and is_ratio and not item.any_kind:
        # In the unit of the instrument: that says what an accuracy in percent is a share of. Of any
        # other kind the unit stays as typed: what an index counts in is told by its step alone.
        given.values[f"{name}_resolution"] = step.to(item.unit)
    if chosen == OWN or chosen is None:
        return
    found = given.in_force.reference.instruments[chosen]
    own = given.in_force.instruments.get(chosen)
    title = own.name if own and own.name else found["title"]
    for figure in ("resolution", "accuracy", "movement"):
        text = figure_of(own, figure, found)
        label = f"{title}, {figure}"
        value = named(parse_quantity(text), figure, label, role="figure") if text else None
        given.values[f"{name}_{figure}"] = value
