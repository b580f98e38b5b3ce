"""What each kind of file must look like. The kinds and their places are in `project.KINDS`."""

from build_tools.shapes.build import Shape
from build_tools.shapes.content import CONTENT_SHAPES
from build_tools.shapes.data import DATA_SHAPES
from build_tools.shapes.reword import check_shape

SHAPES: dict[str, Shape] = {**DATA_SHAPES, **CONTENT_SHAPES}

__all__ = ["SHAPES", "Shape", "check_shape"]
