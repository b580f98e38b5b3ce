"""What each kind of file must look like. The kinds and their places are in `project.KINDS`."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import kind_of
from build_tools.sources.read_yaml import Document
from build_tools.sources.schemas.content import CONTENT_SHAPES
from build_tools.sources.schemas.data import DATA_SHAPES
from build_tools.sources.schemas.forms import Shape
from build_tools.sources.schemas.schema_errors import check_shape
from build_tools.sources.schemas.site import SITE

SHAPES: dict[str, Shape] = {**DATA_SHAPES, **CONTENT_SHAPES, "site": SITE}


def misshapen(document: Document) -> Iterator[Problem]:
    """Every place where a file is not of the shape of its kind."""
    kind = kind_of(document.file)
    if kind is not None and document.value is not None:
        yield from check_shape(document, SHAPES[kind])
