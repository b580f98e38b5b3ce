"""Both releases of QTI against a general-purpose converter: what we write is what it makes."""

from __future__ import annotations

from lxml import etree
from qti_convert import (
    convert_manifest_to_qti3,
    convert_qti3_to_qti21,
    upgrade_qti2_to_qti3,
)

from tests.calcs.practice.exported import files

LOCATION = "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"


def tidied(text: str | bytes) -> bytes:
    """A document without the blanks between its elements, and without where its schema stands."""
    parser = etree.XMLParser(remove_blank_text=True)
    root = etree.fromstring(text.encode() if isinstance(text, str) else text, parser)
    for each in root.iter():
        each.attrib.pop(LOCATION, None)
    etree.cleanup_namespaces(root)
    return bytes(etree.tostring(root))


def documents() -> list[str]:
    return [name for name in files("qti21") if name.startswith("items/")] + ["test.xml"]


def test_an_item_of_2_1_is_upgraded_to_ours_of_3_0() -> None:
    wrong = [
        name
        for name in documents()
        if tidied(upgrade_qti2_to_qti3(files("qti21")[name].decode()))
        != tidied(files("qti30")[name])
    ]
    assert wrong == []
    assert len(documents()) == 41


def test_an_item_of_3_0_is_written_as_ours_of_2_1_with_nothing_lost() -> None:
    for name in documents():
        made = convert_qti3_to_qti21(files("qti30")[name].decode())
        assert not made.warnings, name
        assert tidied(made.xml) == tidied(files("qti21")[name]), name


def test_the_manifest_is_upgraded_to_ours() -> None:
    made = convert_manifest_to_qti3(files("qti21")["imsmanifest.xml"].decode())
    assert tidied(made) == tidied(files("qti30")["imsmanifest.xml"])
