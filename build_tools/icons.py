"""Draws the handbook's mark, a water gauge, as the PNG icons that devices ask for.

The same drawing as `theme/assets/favicon.svg`, in its units of 32 by 32, without a rasteriser to
install: each pixel is as light as its distance from the lines says.
"""

import base64
import math
import struct
import zlib
from pathlib import Path

from build_tools.remembered import remembering

SIZES = (180, 192, 512)
GROUND = (0x10, 0x26, 0x2D)
GLASS = (0xFF, 0xFF, 0xFF)
WATER = (0xF2, 0xB3, 0x3D)
# A device may cut an icon to a circle of four fifths: the mark lies well inside.
SCALE = 0.72
MIDDLE = (16.0, 15.75)  # of the mark
BEND_Y = 19.5  # where the legs of the tube become its bend
RIM_Y = 4.0
LEFT_LEVEL, RIGHT_LEVEL = 14.0, 10.0
WATER_R, WATER_HALF = 5.0, 2.0  # radius of the bend along its middle; half the width
GLASS_HALF = 1.0
OUTER_R, INNER_R = 8.0, 2.0

Colour = tuple[int, int, int]


def write(folder: Path) -> None:
    """Write each size as a file `SIZE.png`."""
    folder.mkdir(parents=True, exist_ok=True)
    with remembering(_as_text, __file__) as drawn:
        for size in SIZES:
            (folder / f"{size}.png").write_bytes(base64.b64decode(drawn(str(size))))


def _as_text(size: str) -> str:
    return base64.b64encode(png(int(size))).decode("ascii")


def png(size: int) -> bytes:
    """The icon as a PNG file."""
    rows = b"".join(b"\0" + row(size, y) for y in range(size))
    head = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in parts)


def row(size: int, y: int) -> bytes:
    """One line of pixels. Lines beside the mark are ground, and most of them are."""
    per_unit = size * SCALE / 32
    down = (y + 0.5 - size / 2) / per_unit + MIDDLE[1]
    ground = bytes(GROUND)
    line = bytearray(ground * size)
    for x in range(size):
        across = (x + 0.5 - size / 2) / per_unit + MIDDLE[0]
        if abs(across - MIDDLE[0]) < OUTER_R + 2 and RIM_Y - 2 < down < BEND_Y + OUTER_R + 2:
            line[3 * x : 3 * x + 3] = bytes(_colour(across, down, per_unit))
    return bytes(line)


def _colour(x: float, y: float, per_unit: float) -> Colour:
    level = LEFT_LEVEL if x < MIDDLE[0] else RIGHT_LEVEL
    water = WATER_HALF - _from_tube(x, y, WATER_R, level)
    glass = GLASS_HALF - min(_from_tube(x, y, OUTER_R, RIM_Y), _from_tube(x, y, INNER_R, RIM_Y))
    colour = _over(GROUND, WATER, min(water, y - level) * per_unit)
    return _over(colour, GLASS, min(glass, y - RIM_Y) * per_unit)


def _from_tube(x: float, y: float, radius: float, top: float) -> float:
    """Distance from a line that goes down, round a half circle and up again."""
    if y > BEND_Y:
        return abs(math.hypot(x - MIDDLE[0], y - BEND_Y) - radius)
    across = abs(abs(x - MIDDLE[0]) - radius)
    return math.hypot(across, max(0.0, top - y))


def _over(below: Colour, above: Colour, inside: float) -> Colour:
    """A colour laid over another, as far as the pixel lies inside: half at the very edge."""
    part = inside + 0.5
    if part <= 0:  # as most pixels lie: this is asked of a hundred thousand
        return below
    if part >= 1:
        return above
    red, green, blue = (round(b + (a - b) * part) for a, b in zip(above, below, strict=True))
    return red, green, blue


def _chunk(kind: bytes, data: bytes) -> bytes:
    crc = zlib.crc32(kind + data)
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", crc)
