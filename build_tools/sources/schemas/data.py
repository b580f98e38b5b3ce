"""What the files of `data/` look like."""

from build_tools.sources.parse_value import COUNT, EDITION, NUMBER, WORD
from build_tools.sources.parse_value import PROVENANCE as A_PROVENANCE
from build_tools.sources.schemas.forms import (
    CELL,
    CITE,
    DAY,
    DOTTED,
    FIRST_DAY,
    NAME,
    PROVENANCE,
    TEXT,
    Schema,
    either,
    listing,
    mapping,
    named,
    one_of,
)

# A value that stands for a range: half of the range's width, or a share of the value, with where
# that is from. It counts as a rectangular distribution (JCGM 100, 4.3.7).
HALF_WIDTH = mapping({"value": TEXT, "source?": CITE, "provenance": PROVENANCE})
DATED_VALUE = mapping(
    {
        "from": FIRST_DAY,
        "until?": DAY,
        "value?": TEXT,
        "half_width?": HALF_WIDTH,
        "edition?": TEXT,
        "source?": CITE,
        "provenance": PROVENANCE,
        "note?": TEXT,
    }
)
# How far a figure may be off by itself. Without it the figure is taken as it stands: a limit, a
# rule, a definition. "printed": it is a measured figure, good to half of its last digit.
UNCERTAINTY = one_of("printed")
# What a pass rests on: the greatest or the least that is permitted. A reader's own figure in its
# place may be tighter than all that is held, never looser.
BOUND = one_of("greatest", "least", "fixed")
# What the values are: a unit that they are in, or a kind for those that have none. A rule sees to
# it that there is one of the two, and that every value fits it.
PLAIN = (NUMBER, COUNT, EDITION, WORD)
FIGURES = named(
    mapping(
        {
            "label": TEXT,
            "meaning": TEXT,
            "unit?": TEXT,
            "kind?": one_of(*PLAIN),
            "bound?": BOUND,
            "uncertainty?": UNCERTAINTY,
            "values": listing(DATED_VALUE),
        }
    ),
    DOTTED,
)

DATED_ROWS = mapping(
    {
        "from": FIRST_DAY,
        "until?": DAY,
        "edition?": TEXT,
        "source?": CITE,
        "provenance": PROVENANCE,
        "note?": TEXT,
        "rows?": listing(either(listing(CELL), named(CELL, NAME))),
    }
)
TABLE = mapping(
    {
        "title": TEXT,
        "meaning": TEXT,
        "uncertainty?": UNCERTAINTY,
        "columns": listing(
            mapping(
                {
                    "name": NAME,
                    "label": TEXT,
                    "unit?": TEXT,
                    "kind?": one_of(*PLAIN, A_PROVENANCE),
                }
            )
        ),
        "values": listing(DATED_ROWS),
    }
)

VALUE = mapping({"value": TEXT, "source?": CITE, "provenance": PROVENANCE})
INSTRUMENTS = named(
    mapping(
        {
            "title": TEXT,
            "measures": NAME,
            "unit": TEXT,
            "resolution": VALUE,
            "accuracy": VALUE,
            "movement?": VALUE,
            "note?": TEXT,
        }
    ),
    NAME,
)

SOURCES = named(
    mapping(
        {
            "title": TEXT,
            "publisher": TEXT,
            "edition?": TEXT,
            "published?": DAY,
            "in_force_from?": DAY,
            "in_force_until?": DAY,
            "seen": one_of("read", "secondary", "not-seen", "library"),
            "note?": TEXT,
        }
    ),
    NAME,
)

SCENARIO = mapping(
    {
        "title": TEXT,
        "provenance": one_of("invented"),
        "readings": named(mapping({"label": TEXT, "value": TEXT}), DOTTED),
    }
)
# A reading with `options` is no figure: one of them is chosen, and it has no unit.
READING = mapping(
    {
        "label": TEXT,
        "unit": CELL,
        "options?": listing(TEXT),
        "state?": NAME,
        "low?": TEXT,
        "high?": TEXT,
        "group": TEXT,
    }
)
VISIT_RECORD = named(READING, DOTTED)

# Rows that prove a calculator. What a row must say is the rule table-of-proof.
PROOF = mapping({"calculator": NAME, "rows": listing({"type": "object"})})

DATA_SCHEMAS: dict[str, Schema] = {
    "limits": FIGURES,
    "gases": FIGURES,
    "table": TABLE,
    "instruments": INSTRUMENTS,
    "sources": SOURCES,
    "scenario": SCENARIO,
    "visit_record": VISIT_RECORD,
    "proof": PROOF,
}
