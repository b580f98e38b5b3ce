"""Snapshots that are cut short, altered or too long."""

from __future__ import annotations

import gzip
from collections.abc import Callable

from tests.runtime.runtime_site import Sent, Site

SNAPSHOT = "snapshot.bin.gz"


def quickly_packed(content: bytes) -> bytes:
    """Not as small as it could be, which takes seconds."""
    return gzip.compress(content, 1)


def cut_short(site: Site) -> Sent:
    return Sent((site.assets / "runtime" / SNAPSHOT).read_bytes()[:-100_000])


def altered(site: Site) -> Sent:
    """A snapshot that unpacks and starts as it should, but in which a word of an answer differs."""
    content = gzip.decompress((site.assets / "runtime" / SNAPSHOT).read_bytes())
    assert RIGHT_WORDS in content
    return Sent(quickly_packed(content.replace(RIGHT_WORDS, WRONG_WORDS)))


def too_long(site: Site) -> Sent:
    content = gzip.decompress((site.assets / "runtime" / SNAPSHOT).read_bytes())
    return Sent(quickly_packed(content + b"more"))


def wrong_at(place: int) -> Callable[[Site], Sent]:
    """A snapshot with one wrong bit."""

    def spoil(site: Site) -> Sent:
        site.flip(SNAPSHOT, place)
        return site.spoilt[SNAPSHOT]

    return spoil


RIGHT_WORDS, WRONG_WORDS = b"It is not met.", b"It is now met."
