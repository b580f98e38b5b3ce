"""What the files of `content/` look like. The order of the keys here is their order in a file."""

from build_tools.sources.schemas.forms import (
    CITE,
    NAME,
    TEXT,
    TEXT_OR_TEXTS,
    TEXTS,
    Schema,
    either,
    listing,
    mapping,
    named,
    one_of,
    pattern,
)

PAGE = pattern(
    r"^(procedures|calculators|reference|record)/[a-z][a-z0-9_]*$",
    "a page, such as procedures/burner_pressure",
)
OPTION = pattern(r"^[A-Za-z][A-Za-z0-9_]*$", "the id of an option, such as natural_gas or G20")
OPTIONS = named(TEXT, OPTION)
COLUMN = mapping({"label": TEXT, "help?": TEXT, "options?": OPTIONS})
INPUT = mapping(
    {
        "label": TEXT,
        "help?": TEXT,
        "seldom?": one_of("yes"),  # it stands under "More" in the form
        "options?": OPTIONS,
        "columns?": named(COLUMN, NAME),
    }
)
OUTPUT = mapping({"label": TEXT, "help?": TEXT})
# A table of the answer, such as each section of a pipe run.
TABLE = mapping({"label": TEXT, "columns": named(mapping({"label": TEXT}), NAME)})
# A chart of the answer: what it shows, what its axes are, and the name of each line and point.
CHART = mapping({"label": TEXT, "x": TEXT, "y": TEXT, "series": named(TEXT, NAME)})
VERDICT = mapping(
    {
        "label": TEXT,
        "meets?": TEXT,
        "does_not_meet?": TEXT,
        "cannot_tell?": TEXT,
        "not_judged?": TEXT,
    }
)
# Figures and tables of which the words of a file say that they are not held here.
NOT_HELD = listing(TEXT)
# A reading of the invented visit by its name, or `=word` for a choice. A table gives its rows.
GIVEN = either(TEXT, listing(named(TEXT, NAME)))

CALCULATOR = mapping(
    {
        "kind": one_of("calculator"),
        "title": TEXT,
        "group": NAME,
        "summary": TEXT,
        "use_when": TEXTS,
        "does_not_cover": TEXTS,
        "inputs": named(INPUT, NAME),
        "outputs": named(OUTPUT, NAME),
        "tables?": named(TABLE, NAME),
        "charts?": named(CHART, NAME),
        "steps?": named(TEXT, NAME),
        "verdicts?": named(VERDICT, NAME),
        "notes?": named(TEXT, NAME),
        "rulings?": named(TEXT, NAME),
        "refusals?": named(TEXT, NAME),
        "before?": TEXTS,  # cautions that count before anything is touched, opened or measured
        "cautions": TEXTS,
        "stop": TEXTS,
        "method": TEXTS,
        "example": mapping(
            {"title": TEXT, "given": named(GIVEN, NAME), "any_reading?": listing(NAME)}
        ),
        "not_held?": NOT_HELD,
        "related?": listing(NAME),
    }
)

STEP = mapping(
    {
        "id": NAME,
        "part?": TEXT,
        "do": TEXT,
        "why": TEXT,
        "expect?": TEXT_OR_TEXTS,
        "timer?": TEXT_OR_TEXTS,
        "stopwatch?": one_of("true"),
        "state?": NAME,  # how the appliance stands while the readings are taken
        "reading?": TEXT_OR_TEXTS,
        "calculator?": NAME,
        "gives?": named(TEXT, NAME),
        "diagram?": either(NAME, {"type": "object", "required": ["id"]}),
        "caution?": TEXT_OR_TEXTS,
        "if?": listing(mapping({"when": TEXT, "do": TEXT})),
        "stop?": TEXT_OR_TEXTS,
    }
)
# For a procedure that finds out which checks apply: what to ask, and each check with the answers
# that call for it. Of one question any answer will do; of several questions each must fit.
QUESTION = mapping({"label": TEXT, "options": OPTIONS})
# Answers that can't all be true of one appliance, with the reason. The form leaves nothing out by
# such answers.
IMPOSSIBLE = mapping({"when": named(TEXT_OR_TEXTS, NAME), "why": TEXT})
CHECK = mapping(
    {
        "id": NAME,
        "do": TEXT,
        "page?": PAGE,
        "when?": named(TEXT_OR_TEXTS, NAME),
        "why": TEXT,
        "law?": TEXT,
    }
)
# Which parts a procedure must have is the rule procedure-has-every-part: it says why.
PROCEDURE = mapping(
    {
        "kind": one_of("procedure"),
        "title": TEXT,
        "group": NAME,
        "summary": TEXT,
        "purpose?": TEXT_OR_TEXTS,
        "who?": TEXT_OR_TEXTS,
        "applies_to?": TEXTS,
        "does_not_apply_to?": TEXTS,
        "instruments?": listing(either(TEXT, mapping({"id": NAME, "use": TEXT}))),
        "cautions?": TEXTS,
        "stop?": TEXTS,
        "steps?": listing(STEP),
        "questions?": named(QUESTION, NAME),
        "impossible?": listing(IMPOSSIBLE),
        "checks?": listing(CHECK),
        "finish?": TEXTS,
        "record?": TEXTS,
        "sources?": listing(CITE),
        "not_held?": NOT_HELD,
        "related?": listing(NAME),
    }
)

# A part of a reference page: words, then the numbers, instruments and tables that it is about.
REFERENCE_SECTION = mapping(
    {
        "id": NAME,
        "title": TEXT,
        "cautions?": TEXTS,
        "body?": TEXTS,
        "diagram?": NAME,
        "points?": TEXTS,
        "instruments?": listing(NAME),
        "limits?": TEXTS,
        "tables?": listing(NAME),
    }
)
REFERENCE = mapping(
    {
        "kind": one_of("reference"),
        "title": TEXT,
        "group": NAME,
        "summary": TEXT,
        "cautions?": TEXTS,
        "body?": TEXTS,
        "sections?": listing(REFERENCE_SECTION),
        "terms?": named(TEXT, TEXT),
        "generate?": NAME,
        "not_held?": NOT_HELD,
        "related?": listing(NAME),
    }
)
# The visit record: what is said of it, and what is written down in words.
WRITTEN = mapping({"id": NAME, "label": TEXT, "help": TEXT})
RECORD = mapping(
    {
        "kind": one_of("record"),
        "title": TEXT,
        "group": NAME,
        "summary": TEXT,
        "body": TEXTS,
        "cautions": TEXTS,
        "written": listing(WRITTEN),
        "signed": TEXTS,
        "related?": listing(NAME),
    }
)
DIAGRAM = mapping(
    {
        "kind": one_of("diagram"),
        "title": TEXT,
        "caption?": TEXT,  # what a reader must know of it, under its title
        "alt?": TEXT,
        "draw": NAME,
        "params?": {"type": "object"},
    }
)
SECTION = mapping(
    {
        "id": NAME,
        "title": TEXT,
        "kind": one_of("procedures", "calculators", "reference", "record"),
        "summary": TEXT,
        "order?": listing(NAME),
    }
)
NAV = mapping({"kind": one_of("nav"), "sections": listing(SECTION)})
HOME = mapping(
    {
        "kind": one_of("home"),
        "summary": TEXT,
        "tasks_title": TEXT,
        "tasks": listing(mapping({"do": TEXT, "page": PAGE})),
        "governs_title": TEXT,
        "governs": TEXTS,
        "who": TEXT,
        "stop_title": TEXT,
        "stop": TEXTS,
        "stop_page": PAGE,
    }
)
WORDS = mapping(
    {
        "kind": one_of("words"),
        "inputs": named(INPUT, NAME),
        "notes?": named(TEXT, NAME),
        "rulings?": named(TEXT, NAME),
        "refusals?": named(TEXT, NAME),
        "judged": named(TEXT, NAME),
        "no_uncertainty_reasons?": named(TEXT, NAME),
        "synonyms?": named(TEXTS, TEXT),
        "provenances": named(TEXT, pattern(r"^[a-z][a-z-]*$", "a provenance, such as from-memory")),
    }
)

CONTENT_SCHEMAS: dict[str, Schema] = {
    "calculator": CALCULATOR,
    "procedure": PROCEDURE,
    "reference": REFERENCE,
    "record": RECORD,
    "diagram": DIAGRAM,
    "nav": NAV,
    "home": HOME,
    "words": WORDS,
}
