"""A host's pictures, PNG or JPEG, written anew out of the parts that draw.

What a camera or a program adds says where a picture was taken, when and by whom, and none of it is
needed to show one. An SVG can hold a script, and a host draws in it as a mark only.
"""

import re
import zlib
from collections.abc import Iterator

LARGEST = 400_000  # bytes: a reader without a signal has all of it on the device
PNG, JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8"
CHUNKS = {  # of a PNG (its third edition, section 11): the ones that draw
    *(b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"pHYs"),
}
LEFT_OUT = {*range(0xE1, 0xF0), 0xFE} - {0xE2, 0xEE}  # of a JPEG: all but JFIF, colour and picture
SCAN, END = 0xDA, 0xD9
MARKER = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]")  # in a scan, that which ends it
EXIF = 0xE1, b"Exif\0\0"
TURNED = b"\x01\x12\0\x03\0\0\0\x01\0", b"\x12\x01\x03\0\x01\0\0\0"  # by the order of bytes
UPRIGHT = b"\x01"


class NoPictureError(Exception):
    """Bytes that are no picture. Its arguments say what was found, and what to do."""


def faults(content: bytes, name: str) -> Iterator[tuple[str, str, str]]:
    """What is wrong with a picture: what was found, what was expected and what to do."""
    try:
        drawn = cleaned(content)
    except NoPictureError as fault:
        found, fix = fault.args
        yield found, "", fix
        return
    kind, ending = ("PNG", ".png") if drawn.startswith(PNG) else ("JPEG", ".jpg")
    if not name.endswith(ending):
        yield f"This picture is a {kind}.", "", f"end its name in {ending}"
    if len(drawn) > LARGEST:
        said = f"This picture has {len(drawn) // 1000} kB."
        yield said, f"A picture has {LARGEST // 1000} kB at most.", "save it smaller, or as JPEG"


def cleaned(content: bytes) -> bytes:
    """The picture out of the parts that draw.

    Raises:
        NoPictureError: It is no whole PNG or JPEG, or a JPEG that is to be turned.
    """
    if content.startswith(PNG):
        return PNG + b"".join(_chunks(content))
    if content.startswith(JPEG):
        return JPEG + b"".join(_segments(content))
    raise NoPictureError("This file is no PNG and no JPEG.", "save the picture anew as one of them")


def _broken() -> NoPictureError:
    return NoPictureError("This picture is not whole.", "copy it again, or save it anew")


def _chunks(content: bytes) -> Iterator[bytes]:
    """The chunks that draw: length, name, what it says and a check on both."""
    place, kind = len(PNG), b""
    while kind != b"IEND":
        length, kind = int.from_bytes(content[place : place + 4]), content[place + 4 : place + 8]
        end = place + 12 + length
        check = int.from_bytes(content[end - 4 : end])
        if end > len(content) or zlib.crc32(content[place + 4 : end - 4]) != check:
            raise _broken()
        if kind in CHUNKS:
            yield content[place:end]
        place = end


def _segments(content: bytes) -> Iterator[bytes]:
    """The segments that draw, each scan with the one that begins it, and the end."""
    place = len(JPEG)
    while True:
        marker, length = content[place : place + 2], int.from_bytes(content[place + 2 : place + 4])
        if marker == bytes((0xFF, END)):
            yield marker
            return
        end = place + 2 + length
        if len(marker) < len(JPEG) or marker[0] != 0xFF or end > len(content) or not length:
            raise _broken()
        if _is_turned(content[place:end]):
            fix = "turn it in a program for pictures and save it"
            raise NoPictureError("This picture lies on its side or its head.", fix)
        if marker[1] == SCAN:
            behind = MARKER.search(content, end)
            if behind is None:
                raise _broken()
            end = behind.start()
        if marker[1] not in LEFT_OUT:
            yield content[place:end]
        place = end


def _is_turned(segment: bytes) -> bool:
    """Whether a camera says that its picture is to be turned: tag 274 of Exif, 1 where upright."""
    if segment[1] != EXIF[0] or not segment[4:].startswith(EXIF[1]):
        return False
    ends = [at + len(tag) for tag in TURNED if (at := segment.find(tag)) >= 0]
    return any(segment[end : end + 1] != UPRIGHT for end in ends)
