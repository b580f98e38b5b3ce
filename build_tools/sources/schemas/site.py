"""What `mkdocs.yml` must say for this project. The rest of that file is the binder's business."""

from build_tools.sources.schemas.forms import CELL, Schema, mapping, pattern

DAYS = pattern(r"^[1-9][0-9]{0,4}$", "a whole number of days above 0, such as 365")
# Every key must be there: a contact that is left out by a slip of typing would be missed by nobody
# but the reader who needs it.
# The binder takes a bare 2026 or yes for something else than text.
NAME = pattern(
    r"^(?!([Yy]es|[Nn]o|[Tt]rue|[Ff]alse|[Oo]n|[Oo]ff|[Nn]ull)$)(?=.*[^\W\d_])",
    "a name with a letter in it, such as Gas commissioning handbook",
)
# Whatever else stands there is the theme's.
EXTRA: Schema = {
    **mapping({"emergency_contact": CELL, "good_for_days": DAYS}),
    "additionalProperties": True,
}
SITE: Schema = {
    "type": "object",
    "properties": {"site_name": NAME, "extra": EXTRA},
    "required": ["site_name", "extra"],
}
