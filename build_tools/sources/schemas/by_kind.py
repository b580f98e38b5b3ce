"""What each kind of file must look like. The kinds and their places are in `project.KINDS`."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import kind_of
from build_tools.sources.read_yaml import Document
from build_tools.sources.schemas.content import CONTENT_SCHEMAS
from build_tools.sources.schemas.data import DATA_SCHEMAS
from build_tools.sources.schemas.forms import Schema
from build_tools.sources.schemas.schema_errors import schema_errors
from build_tools.sources.schemas.site import SITE

SCHEMAS: dict[str, Schema] = {**DATA_SCHEMAS, **CONTENT_SCHEMAS, "site": SITE}


def document_errors(document: Document) -> Iterator[Problem]:
    """Every place where a file does not fit the schema of its kind."""
    kind = kind_of(document.file)
    if kind is not None and document.value is not None:
        yield from schema_errors(document, SCHEMAS[kind])
