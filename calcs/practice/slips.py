"""Slips: what somebody would find who made one. Each is a change of the inputs or of the answer.

A template names the slips that fit it and says what each acts on. What it does not say, `USUAL`
does. The words of a slip stand in `content/_slips.yaml`, by the same name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from calcs.engine.units import Quantity
from calcs.practice.figures import Values, join, quantity, split
from calcs.practice.pack import Pack

FEET = 35.3147  # cubic feet in a cubic metre, to the figures that a trainee uses
# What a slip does where its template names nothing else.
USUAL: dict[str, Mapping[str, Any]] = {
    "min_s": {"times": ["60", "1/60"]},
    "point10": {"times": ["10", "1/10"]},
    "kilopascal": {"times": ["10", "1/10"]},
    "litre_m3": {"times": ["1000", "1/1000"]},
    "mm2_cm2": {"times": ["100", "1/100"]},
    "m3_ft3": {"times": [f"{FEET}"]},
    "sign": {"times": ["-1"]},
    "no_joules": {"times": ["3.6", "1/3.6"]},
    "cv_kwh": {"times": ["3.6", "1/3.6"]},
    "metered_corr": {"times": ["1.02264", "1/1.02264"]},
    "half_turns": {"times": ["2", "1/2"]},
    "percent": {"times": ["100", "1/100"]},
}


@dataclass(frozen=True)
class Asked:
    """What a number is asked for.

    Args:
        answer: `calculator`, `output` and `with` of the template, or the figure that it is.
        values: The figures drawn and made.
        right: The answer, in its own unit.
        unit: That unit.
        pack: For what the calculator finds with other inputs.
    """

    answer: Mapping[str, Any]
    values: Values
    right: float
    unit: str
    pack: Pack


@dataclass(frozen=True)
class Found:
    """What a slip leads to.

    Args:
        name: Of the slip.
        value: The answer with it, in the unit of the right one.
        given: The inputs with it, where it is one of the inputs.
    """

    name: str
    value: float
    given: Mapping[str, Any] | None = None


def name_of(slip: str | Mapping[str, Any]) -> str:
    """Its name, whether it is named alone or with what it acts on."""
    return slip if isinstance(slip, str) else str(slip["slip"])


def found(slip: str | Mapping[str, Any], asked: Asked) -> Iterator[Found]:
    """What somebody finds who makes a slip. Some can be made in two ways."""
    own = {} if isinstance(slip, str) else {k: v for k, v in slip.items() if k != "slip"}
    name = name_of(slip)
    for key, detail in (own or USUAL[name]).items():
        if key in OF_INPUTS:
            given, values = OF_INPUTS[key](detail, asked)
            yield from _anew(name, given, values, asked)
        else:
            yield from (Found(name, value) for value in OF_ANSWER[key](detail, asked))


def _anew(name: str, given: Mapping[str, Any], values: Values, asked: Asked) -> Iterator[Found]:
    """The answer with other inputs. Where they are refused, nobody gets as far as an answer."""
    answer = asked.pack.answers(asked.answer["calculator"], given, values)
    for each in answer["answers"] if answer else ():
        if each["name"] == asked.answer["output"]:
            yield Found(name, float(each["value"]), {"with": given, "values": values})


def _set(detail: Any, asked: Asked) -> tuple[dict[str, Any], Values]:
    """Another figure or word in an input, or none."""
    given = {**asked.answer["with"], **detail}
    return {name: behind for name, behind in given.items() if behind != "nothing"}, asked.values


def _changed(change: Callable[[str], str]) -> Callable[[Any, Asked], tuple[dict[str, Any], Values]]:
    """One or more figures read otherwise."""

    def changed(detail: Any, asked: Asked) -> tuple[dict[str, Any], Values]:
        names = [detail] if isinstance(detail, str) else detail
        other = {name: change(asked.values[name]) for name in names}
        return dict(asked.answer["with"]), {**asked.values, **other}

    return changed


def _clock_as_decimal(text: str) -> str:
    """2:05 on the watch taken as 2.05 of a minute."""
    seconds, unit = split(text)
    minutes, rest = divmod(int(seconds), 60)
    return join(Decimal(60) * (Decimal(minutes) + Decimal(rest) / 100), unit)


OF_INPUTS: dict[str, Callable[[Any, Asked], tuple[dict[str, Any], Values]]] = {
    "set": _set,
    "clock": _changed(_clock_as_decimal),
}


def _times(detail: Any, asked: Asked) -> Iterator[float]:
    for text in detail:
        upper, _, lower = text.partition("/")
        yield asked.right * float(upper) / float(lower or 1)


def _in_unit(name: str, asked: Asked) -> float:
    """A drawn figure in the unit of the answer; its bare number where it is of another kind."""
    value = quantity(asked.values[name])
    right = Quantity(1.0, asked.unit) if asked.unit else None
    if right is not None and right.units.dimensionality == value.units.dimensionality:
        return float(value.to(right.units).magnitude)
    return float(value.magnitude)


def _factor(name: str, asked: Asked) -> float:
    """A drawn figure that the answer is multiplied by: a ratio of 1.11 is no 111 per cent."""
    value = quantity(asked.values[name])
    return float(value.to("").magnitude) if value.dimensionless else _in_unit(name, asked)


def _output(detail: Any, asked: Asked) -> Iterator[float]:
    """Another of the calculator's answers, in the unit of the right one."""
    answer = asked.pack.answers(asked.answer["calculator"], asked.answer["with"], asked.values)
    for each in answer["answers"] if answer else ():
        if each["name"] == detail:
            value = Quantity(float(each["value"]), each["unit"])
            yield float(value.to(asked.unit).magnitude)


def _upside(detail: Any, asked: Asked) -> Iterator[float]:
    """What was to be divided was multiplied, or the other way round."""
    given = _in_unit(detail, asked)
    yield given * given / asked.right


OF_ANSWER: dict[str, Callable[[Any, Asked], Iterator[float]]] = {
    "times": _times,
    "output": _output,
    "less_output": lambda detail, asked: (asked.right - each for each in _output(detail, asked)),
    "is": lambda detail, asked: iter([_in_unit(detail, asked)]),
    "number": lambda detail, asked: iter([float(split(asked.values[detail])[0])]),
    "plus": lambda detail, asked: iter([asked.right + _in_unit(detail, asked)]),
    "less": lambda detail, asked: iter([asked.right - _in_unit(detail, asked)]),
    "by": lambda detail, asked: iter([asked.right * _factor(detail, asked)]),
    "over": lambda detail, asked: iter([asked.right / _factor(detail, asked)]),
    # The ratio where its root belongs, and the root where the ratio does.
    "square": lambda detail, asked: iter([asked.right * asked.right / _in_unit(detail, asked)]),
    "upside": _upside,
}
