"""What a calculator declares: inputs, outputs, sources, and names of all that it may say."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from calcs.engine.chart import ChartShape
from calcs.engine.findings import Finding
from calcs.engine.rounding import round_half_up, short_number


@dataclass(frozen=True)
class Cite:
    """A place in a source that data/sources.yaml lists."""

    id: str
    where: str


@dataclass(frozen=True)
class When:
    """An input counts only while a choice has one of these values."""

    input: str
    options: tuple[str, ...]


STATED = "stated"  # a data plate, a catalogue, a setting: taken as it stands
COUNTED = "counted"  # how many there are: a whole number, taken as it stands
WRITTEN = "written"  # measured without an instrument that is named: good to its last digit
IN_FORMULA = "in_formula"  # the formula works it out, as of what a meter gains between two readings
WITHOUT_INSTRUMENT = (STATED, COUNTED, WRITTEN, IN_FORMULA)


@dataclass(frozen=True)
class Input:
    """A quantity that the reader gives. It says how sure it is: `read_with` or `uncertainty`.

    Args:
        name: Parameter of the formula.
        unit: Unit the range is in and the form starts with.
        low: Smallest value the form accepts: a check on typing, not a limit of the trade.
        high: Greatest value the form accepts.
        also: Other units offered.
        optional: The formula gets None when it is left empty.
        default: Figure used when it is left empty; `{gas}` stands for the choice of that name.
        when: The choice under which it counts.
        read_with: Instrument input whose resolution and accuracy give its uncertainty.
        any_kind: Takes a unit of any kind; the range is then of the number in the unit typed.
        uncertainty: `STATED`, `COUNTED`, `WRITTEN` or `IN_FORMULA`, where no instrument gives it.
        good_to: Input with the share of it, either way, that it is good to within; where that is
            filled it goes before `uncertainty`.
    """

    name: str
    unit: str
    low: float
    high: float
    also: tuple[str, ...] = ()
    optional: bool = False
    default: str | None = None
    when: When | None = None
    read_with: str | None = None
    any_kind: bool = False
    uncertainty: str | None = None
    good_to: str | None = None

    def __post_init__(self) -> None:
        """Refuse an input that leaves its uncertainty unsaid, or says it twice."""
        told = [one for one in (self.read_with, self.uncertainty) if one]
        if len(told) != 1 or self.uncertainty not in (None, *WITHOUT_INSTRUMENT):
            raise ValueError(
                f"The input {self.name!r} must say what uncertainty it carries: the instrument in "
                f"read_with, or one word in uncertainty. It says: {told}."
            )


@dataclass(frozen=True)
class Choice:
    """One of a short list of words. `default` None makes it a question the reader must answer."""

    name: str
    options: tuple[str, ...]
    default: str | None = None
    optional: bool = False
    when: When | None = None


@dataclass(frozen=True)
class Instrument:
    """Which instrument took the readings that name it in `read_with`.

    Args:
        name: Name of the input.
        measures: Those in data/instruments.yaml that measure this are offered; "*" for all.
        unit: Unit of a resolution and an accuracy typed in by the reader.
        default: Id of the instrument taken when nothing is chosen.
        high: Greatest resolution or accuracy that the form accepts, in `unit`.
        also: Other units offered for them.
        any_kind: As for `Input`.

    A formula that has the parameters `<name>_resolution` and `<name>_accuracy` gets the figures of
    the instrument chosen.
    """

    name: str
    measures: str
    unit: str
    default: str
    high: float = 1000.0
    also: tuple[str, ...] = ()
    any_kind: bool = False


@dataclass(frozen=True)
class Day:
    """A date."""

    name: str
    optional: bool = True
    when: When | None = None


@dataclass(frozen=True)
class Rows:
    """A table that the reader fills: `low` to `high` rows of the same columns.

    The formula gets a tuple with one mapping for each row that is filled; `row` in it is the number
    that the reader sees beside it.
    """

    name: str
    columns: tuple[Input | Choice, ...]
    low: int = 1
    high: int = 60
    when: When | None = None


AnyInput: TypeAlias = Input | Choice | Instrument | Day | Rows


@dataclass(frozen=True)
class Output:
    """A quantity that the formula returns and the reader is shown.

    Args:
        name: Key of what the formula returns.
        unit: Unit it is shown in; `{reading}` is the unit that the input of that name was typed in.
        places: Decimal places shown.
        significant: `places` counts the digits that matter instead, for a wide range of sizes.
        no_uncertainty_reason: Why it has no uncertainty, where that cannot be read off how it came
            about: id of the words in `no_uncertainty_reasons` of content/_words.yaml.
    """

    name: str
    unit: str
    places: int
    significant: bool = False
    no_uncertainty_reason: str | None = None

    def shown(self, number: float) -> str:
        """A number in the output's unit, as the reader sees it."""
        if self.significant:
            return short_number(number, self.places)
        return round_half_up(number, self.places)


@dataclass(frozen=True)
class TableShape:
    """Columns of a table that `judge` may give; a column of words has no unit and no places."""

    name: str
    columns: tuple[Output, ...]


@dataclass(frozen=True)
class Ahead:
    """How a calculator foretells a run that a step asks for.

    Args:
        asks: Inputs that it is asked in place of those of the step.
        answer: Name of the output that is worked from.
        tell: From that output, the first reading and the figures to the run. Its parameters and
            what it returns are those of `calcs.domain.gas.run_ahead`.
    """

    asks: Mapping[str, Mapping[str, str]]
    answer: str
    tell: Callable[..., Any]


# Compared by identity: each request looks things up by calculator, and a hash of all that one
# declares takes longer than some answers.
@dataclass(frozen=True, eq=False)
class Calculator:
    """A formula with all that a form, a table of proof and a page need to know of it.

    Args:
        formula: Keyword-only function from quantities to named quantities; its name is the id.
        inputs: In the order of the form.
        outputs: In the order of the answer. What else the formula returns is shown as working.
        sources: Where the method comes from.
        uses: Figures that it may look up; `*` stands for any word between two dots.
        judge: From what was given, the answers and the figures to verdicts and notes.
        verdicts: Names of the verdicts that `judge` may give.
        notes: Ids of the notes that it may give.
        rulings: Ids of the reasons that its rulings may give.
        refusals: Ids of the reasons for which its formula and `judge` may refuse.
        tables: Tables that `judge` may give.
        charts: Charts that it may give.
        rests_on: By the name of a verdict, those without which it does not pass: whether the test
            was done as it must be, and whether the procedure covers what was tested.
        ahead: How it foretells a run of the meter.
        decides: By the name of a choice, the option that settles the verdict alone, as a smell of
            gas does: whatever else is missing or wrong keeps nobody from being told to stop.
    """

    formula: Callable[..., Mapping[str, Any]]
    inputs: tuple[AnyInput, ...]
    outputs: tuple[Output, ...]
    sources: tuple[Cite, ...]
    uses: tuple[str, ...] = ()
    judge: Callable[..., list[Finding]] | None = None
    verdicts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    rulings: tuple[str, ...] = ()
    refusals: tuple[str, ...] = ()
    tables: tuple[TableShape, ...] = ()
    charts: tuple[ChartShape, ...] = ()
    rests_on: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    ahead: Ahead | None = None
    decides: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse a name that no verdict has: it would hold nothing back."""
        named = {*self.rests_on, *(other for each in self.rests_on.values() for other in each)}
        if strange := named - {*self.verdicts}:
            raise ValueError(f"rests_on names {sorted(strange)}, which are no verdicts of it.")

    @property
    def id(self) -> str:
        """Stem of its file, its page and its table."""
        return self.formula.__name__
