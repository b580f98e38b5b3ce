"""A host's pictures: what draws is left to the byte, what tells of who took them is not.

The parts of a PNG are those of its specification (third edition, section 5.3), those of a JPEG of
ITU-T T.81, Annex B; Exif's tag 274 says which way up a picture is (Exif 2.3, table 4).
"""

from __future__ import annotations

import base64
import struct
import zlib

import pytest

from build_tools.setup.paths import ROOT
from build_tools.sources.picture import JPEG, LARGEST, PNG, NoPictureError, cleaned, faults

SMALL = base64.b64decode(  # 16 by 8, as a browser wrote it
    "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNi"
    "UFVtVkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8"
    "fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wAARCAAIABADASIAAhEBAxEB/8QAFgABAQEAAAAA"
    "AAAAAAAAAAAAAAMG/8QAFhABAQEAAAAAAAAAAAAAAAAAAARB/8QAFQEBAQAAAAAAAAAAAAAAAAAAAgT/xAAW"
    "EQEBAQAAAAAAAAAAAAAAAAAAAQP/2gAMAwEAAhEDEQA/AJQY0sGAVT5v/9k="
)
PLAN = (ROOT / "tests/overlay/northmoor/pages/bays.png").read_bytes()
ELSEWHERE = b"51 30 26 N, taken by I. Nitials"


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(*more: bytes) -> bytes:
    """One grey point, with these chunks before it."""
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    return PNG + header + b"".join(more) + chunk(b"IDAT", zlib.compress(b"\0\x80")) + END


END = chunk(b"IEND", b"")


def segment(marker: int, data: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(data) + 2) + data


def exif(order: str, turned: int) -> bytes:
    """A segment as a camera writes it: one entry, of tag 274."""
    mark = b"II*\0" if order == "<" else b"MM\0*"
    entry = struct.pack(f"{order}HHIHH", 274, 3, 1, turned, 0)
    body = mark + struct.pack(f"{order}IH", 8, 1) + entry + struct.pack(f"{order}I", 0)
    return segment(0xE1, b"Exif\0\0" + body)


def jpeg(*more: bytes) -> bytes:
    return JPEG + b"".join(more) + SMALL[len(JPEG) :]


@pytest.mark.parametrize("whole", [SMALL, png(), PLAN], ids=["jpeg", "png", "plan"])
def test_what_draws_is_left_to_the_byte(whole: bytes) -> None:
    assert cleaned(whole) == whole


def test_what_tells_of_who_took_it_goes() -> None:
    told = [chunk(kind, ELSEWHERE) for kind in (b"tEXt", b"iTXt", b"eXIf", b"tIME", b"acTL")]
    assert cleaned(png(*told)) == png()
    gamma = chunk(b"gAMA", struct.pack(">I", 45455))
    assert cleaned(png(gamma)) == png(gamma)
    taken = [segment(marker, ELSEWHERE) for marker in (0xE1, 0xED, 0xEF, 0xFE)]
    assert cleaned(jpeg(exif("<", 1), exif(">", 1), *taken)) == SMALL
    colours = segment(0xE2, b"ICC_PROFILE\0\1\1")
    assert cleaned(jpeg(colours)) == jpeg(colours)


def test_what_follows_a_picture_goes() -> None:
    """A page in one file with a picture is a way to bring in a script."""
    for whole in (SMALL, png()):
        assert cleaned(whole + b"<script>alert(1)</script>" + b"\xff\xd9") == whole


def test_a_picture_of_several_scans_is_whole() -> None:
    """As a progressive JPEG has them: between two scans stands another segment."""
    scan = segment(0xDA, b"\1\1\0\0\x3f\0") + b"\x12\xff\0\x34\xff\xd0\x56"
    table = segment(0xC4, b"\xff\xd9 within a table ends nothing")
    two = JPEG + scan + table + segment(0xFE, ELSEWHERE) + scan + b"\xff\xd9"
    assert cleaned(two + ELSEWHERE) == JPEG + scan + table + scan + b"\xff\xd9"


@pytest.mark.parametrize("order", "<>")
@pytest.mark.parametrize("turned", range(2, 9))
def test_a_picture_on_its_side_is_refused(order: str, turned: int) -> None:
    with pytest.raises(NoPictureError, match="on its side"):
        cleaned(jpeg(exif(order, turned)))


@pytest.mark.parametrize("whole", [SMALL, png()], ids=["jpeg", "png"])
def test_half_a_picture_is_none_wherever_it_breaks_off(whole: bytes) -> None:
    for length in range(len(whole) - 1):
        with pytest.raises(NoPictureError):
            cleaned(whole[:length])


def test_a_changed_byte_of_a_png_is_found() -> None:
    whole = png()
    for place in range(len(PNG), len(whole)):
        other = whole[:place] + bytes((whole[place] ^ 1,)) + whole[place + 1 :]
        with pytest.raises(NoPictureError):
            cleaned(other)


def test_what_is_wrong_is_told_with_what_to_do() -> None:
    assert not [*faults(SMALL, "a.jpg"), *faults(png(), "a.png")]
    (kind,) = faults(SMALL, "a.png")
    assert kind == ("This picture is a JPEG.", "", "end its name in .jpg")
    large = png(chunk(b"iCCP", bytes(LARGEST)))
    (size,) = faults(large, "a.png")
    assert size[:2] == ("This picture has 400 kB.", "A picture has 400 kB at most.")
    (none,) = faults(b"<svg/>", "a.png")
    assert none[0] == "This file is no PNG and no JPEG."
