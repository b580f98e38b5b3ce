"""From what was typed to what a formula takes: every input read, every refusal collected."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from typing import Any

from calcs.engine.declarations import (
    WRITTEN,
    AnyInput,
    Calculator,
    Choice,
    Day,
    Input,
    Instrument,
    Rows,
)
from calcs.engine.errors import Missing, Refusal, Refused
from calcs.engine.given import Given
from calcs.engine.in_force import InForce
from calcs.engine.input_uncertainty import add_uncertainty
from calcs.engine.parse_value import (
    check_comma,
    check_range,
    check_whole,
    default_value,
    parse_date,
    read_choice,
    read_date,
)
from calcs.engine.registry import OWN, TEST_DATE, all_inputs
from calcs.engine.request_errors import NoStep, NotUsed, OutOfRange, UnknownInput
from calcs.engine.request_form import rows_of, text_of
from calcs.engine.rounding import decimals_of, short_number
from calcs.engine.traced import named, si
from calcs.engine.typed_number import number_at_start
from calcs.engine.uncertainty import rounding_uncertainty
from calcs.engine.units import Q, join_unit, read_quantity, unit_code

Typed = Mapping[str, Any]
MOST_PLACES = 9  # that the working repeats of what was typed; no instrument shows more


def day_of_test(inputs: Typed, today: date) -> date:
    """Day the figures are asked for.

    Raises:
        Refused: The date typed is no date.
    """
    try:
        text = text_of(TEST_DATE.name, inputs.get(TEST_DATE.name))
        return parse_date(TEST_DATE.name, text) if text else today
    except Refusal as refusal:
        raise Refused([refusal]) from None


def decisive(calculator: Calculator, inputs: Typed) -> dict[str, Any]:
    """Of what was typed, the choice that decides alone; empty where there is none."""
    return {
        name: inputs[name]
        for name, option in calculator.decides.items()
        if name in inputs and _text(name, inputs[name]) == option
    }


def _text(name: str, entered: Any) -> str:
    try:
        return text_of(name, entered)
    except Refusal:
        return ""  # told where it is read


def read(
    calculator: Calculator,
    labels: Mapping[str, str],
    inputs: Typed,
    in_force: InForce,
    refusals: Iterable[Refusal] = (),
    *,
    is_decided: bool = False,
) -> Given:
    """Read every input of a request.

    Args:
        calculator: What is asked.
        labels: Words for the names of inputs.
        inputs: By name, `{"value": text, "unit": text}` or `{"rows": [...]}`.
        in_force: The figures on the day of the test.
        refusals: What has been found wrong already, to be told with the rest.
        is_decided: What was typed decides alone: nothing that is missing is asked for.

    Raises:
        Refused: One or more inputs cannot be used; all of them are in it.
    """
    given = Given(in_force, labels, refusals=[*refusals])
    known = {item.name: item for item in all_inputs(calculator)}
    given.refusals.extend(_unknown(name, known) for name in inputs if name not in known)
    # Choices first: they decide which other inputs count, and which figure is a default.
    for item in sorted(known.values(), key=lambda item: not isinstance(item, Choice | Instrument)):
        entered = inputs.get(item.name)
        given.values[item.name] = given.collect(_one, item, entered, given)
    given.refusals.extend(_without_step(calculator.inputs, given))
    if is_decided:
        given.refusals = [each for each in given.refusals if not isinstance(each, Missing)]
    if given.refusals:
        places = {name: place for place, name in enumerate(known)}
        raise Refused(
            sorted(
                given.refusals,
                key=lambda refusal: places.get((refusal.field or "").partition("[")[0], -1),
            )
        )
    add_uncertainty(calculator.inputs, given)
    given.typed = {name: given.typed[name] for name in known if name in given.typed}
    return given


def _without_step(inputs: Iterable[AnyInput], given: Given) -> list[Refusal]:
    """Instruments of the reader's own that are told to show more than any can."""
    own = [item.name for item in inputs if isinstance(item, Instrument)]
    steps = [f"{name}_resolution" for name in own if given.values.get(name) == OWN]
    typed = [(name, given.values.get(name)) for name in steps]
    return [NoStep(name) for name, step in typed if step is not None and si(step) <= 0]


def _unknown(name: str, known: Iterable[str]) -> Refusal:
    names = list(known)
    near = difflib.get_close_matches(name, names, n=1)
    nearest = f" Did you mean {near[0]}?" if near else ""
    return UnknownInput(str(name)[:40], names=", ".join(names), nearest=nearest)


def _one(item: AnyInput, entered: Any, given: Given) -> Any:
    when = getattr(item, "when", None)
    if when and given.values.get(when.input) not in when.options:
        if rows_of(item.name, entered) if isinstance(item, Rows) else text_of(item.name, entered):
            raise NotUsed(item.name, input=when.input, options=" or ".join(when.options))
        return None
    if isinstance(item, Rows):
        return _rows(item, entered, given)
    value: Any
    if isinstance(item, Input):
        value = _quantity(item, item.name, entered, given.values, given)
    elif isinstance(item, Day):
        on_test = item.name == TEST_DATE.name
        value = given.in_force.on if on_test else read_date(item, entered)
    else:
        value = read_choice(item, item.name, _options(item, given), entered)
    if value is not None:
        given.typed[item.name] = _as_typed(value)
    return value


def _options(item: Choice | Instrument, given: Given) -> tuple[str, ...]:
    if isinstance(item, Choice):
        return item.options
    instruments = given.in_force.reference.instruments.items()
    return (*(n for n, one in instruments if item.measures in ("*", one["measures"])), OWN)


def _quantity(
    item: Input, name: str, entered: Any, choices: Mapping[str, Any], given: Given
) -> Q | None:
    text = text_of(name, entered)
    if not text:
        return default_value(item, name, {**given.values, **choices}, given.in_force)
    unit = (entered.get("unit") if isinstance(entered, dict) else None) or item.unit
    value = read_quantity(name, text, unit, (item.unit, *item.also))
    check_comma(item, name, text, value)
    check_range(item, name, value)
    check_whole(item, name, value)
    label = given.labels.get(item.name, item.name.replace("_", " "))
    if "[" in name:
        table, _, place = name.partition("[")
        label = given.labels.get(f"{table}[].{item.name}", label)
        label = f"{label} {int(place.partition(']')[0]) + 1}"
    figure = named(value, name, label, role="input")
    figure.typed_places = min(MOST_PLACES, decimals_of(number_at_start(text)))
    # Nought says that there is none of it, and is as sure as a count.
    if item.uncertainty == WRITTEN and figure.magnitude:
        figure.standard_uncertainty = rounding_uncertainty(text.replace(",", ""), figure.units)
    return figure


def _rows(item: Rows, entered: Any, given: Given) -> tuple[Mapping[str, Any], ...]:
    filled = _filled(item, rows_of(item.name, entered))
    if len(filled) < item.low:
        raise Missing(item.name, rows=item.low)
    if len(filled) > item.high:
        found = f"{len(filled)} rows"
        low, high = str(item.low), str(item.high)
        raise OutOfRange(item.name, found=found, low=low, high=high, unit="rows", spelling="rows")
    # The number is the reader's own: rows left empty in between count.
    read_rows = tuple(
        {"row": place + 1, **_row(item, f"{item.name}[{place}]", row, given)}
        for place, row in filled
    )
    given.typed[item.name] = {
        "rows": [
            {
                name: _as_typed(value)
                for name, value in row.items()
                if value is not None and name != "row"
            }
            for row in read_rows
        ]
    }
    return read_rows


def _filled(item: Rows, rows: list[Typed]) -> list[tuple[int, Typed]]:
    """The rows that count, by their place: one that the reader left as it came is no row.

    Where too few are left, those count too: the reader is then told cell by cell what is missing.
    """
    defaults = {each.name: each.default for each in item.columns if isinstance(each, Choice)}
    read: list[tuple[int, Typed, dict[str, str]]] = [
        (
            place,
            row,
            {
                name: text
                for name, cell in row.items()
                if (text := text_of(f"{item.name}[{place}].{name}", cell))
            },
        )
        for place, row in enumerate(rows)
    ]
    written = [(place, row) for place, row, texts in read if texts]
    touched = [
        (place, row)
        for place, row, texts in read
        if any(text != defaults.get(name) for name, text in texts.items())
    ]
    return touched if len(touched) >= item.low else written


def _row(item: Rows, place: str, row: Typed, given: Given) -> Mapping[str, Any]:
    columns = {column.name: column for column in item.columns}
    given.refusals.extend(_unknown(name, columns) for name in row if name not in columns)
    values: dict[str, Any] = dict.fromkeys(columns)
    for column in sorted(item.columns, key=lambda column: not isinstance(column, Choice)):
        name, when = f"{place}.{column.name}", column.when
        entered = row.get(column.name)
        # A cell that another cell of its row has switched off is left out, typed in or not: a row
        # keeps what was in it while its kind is being changed.
        if when and values.get(when.input) not in when.options:
            continue
        if isinstance(column, Choice):
            taken = given.collect(read_choice, column, name, column.options, entered)
        else:
            taken = given.collect(_quantity, column, name, entered, values, given)
        values[column.name] = taken
    return values


def _as_typed(value: Any) -> dict[str, Any]:
    if isinstance(value, date):
        return {"value": value.isoformat(), "unit": None, "text": value.isoformat()}
    if isinstance(value, str):
        return {"value": value, "unit": None, "text": value}
    number = float(value.magnitude)
    text, unit = _number_as_typed(number, value.units)
    return {"value": number, "unit": unit, "text": text}


@lru_cache(maxsize=512)
def _number_as_typed(number: float, unit: Any) -> tuple[str, str]:
    """Text and the unit's code. From one key to the next, most figures are what they were."""
    return join_unit(short_number(number, 12), unit), unit_code(unit)
