"""A zip of texts, the same bytes from every machine: nothing is packed, and no file has a day.

Written from the published form of the archive, PKWARE's APPNOTE, sections 4.3.7, 4.3.12 and 4.3.16.
Names are ASCII, and one package is far below the sizes where the form changes.
"""

from __future__ import annotations

import binascii
import struct
from collections.abc import Mapping

LOCAL, CENTRAL, END = 0x04034B50, 0x02014B50, 0x06054B50
VERSION = 20  # of the form that a reader must know
FIRST_DAY = 1 << 5 | 1  # 1 January 1980, the first that it can say


def zipped(files: Mapping[str, str]) -> bytes:
    """A zip of some texts, by name."""
    parts, entries, at = [], [], 0
    for name, text in files.items():
        data, title = text.encode(), name.encode("ascii")
        sizes = (binascii.crc32(data), len(data), len(data), len(title))
        same = struct.pack("<5H3I2H", VERSION, 0, 0, 0, FIRST_DAY, *sizes, 0)
        part = struct.pack("<I", LOCAL) + same + title + data
        entry = struct.pack("<IH", CENTRAL, VERSION) + same
        entries.append(entry + struct.pack("<3H2I", 0, 0, 0, 0, at) + title)
        parts.append(part)
        at += len(part)
    listed = b"".join(entries)
    count = len(files)
    end = struct.pack("<I4H2IH", END, 0, 0, count, count, len(listed), at, 0)
    return b"".join([*parts, listed, end])
