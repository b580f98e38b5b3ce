"""Questions as items of IMS QTI, release 2.1 or 3.0, packed with a test and a manifest.

Both releases have the same elements. Release 3.0 writes `qti-response-declaration` where 2.1 writes
`responseDeclaration`, and its attributes likewise: so one writer serves both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from calcs.practice.exports.items import Choice, Item, decimal
from calcs.practice.exports.markup import DECLARATION, Markup, element

CAPITAL = re.compile(r"(?<=[a-z0-9])([A-Z])")
XSI = "http://www.w3.org/2001/XMLSchema-instance"
SCORE, FEEDBACK, RESPONSE = "SCORE", "FEEDBACK", "RESPONSE"
EXPLAINED, WAY = "EXPLAINED", "way"  # told to everybody: the answer and the way to it


@dataclass(frozen=True)
class Release:
    """One release of the standard, and the names that it goes by.

    Args:
        space: Namespace of items and tests.
        schema: Where its schema stands, as `xsi:schemaLocation` says it.
        manifest: Namespace of the manifest.
        package: What the manifest calls the kind of package, and its version.
        kinds: What it calls an item and a test among the resources.
        is_kebab: Whether names are written with hyphens.
    """

    space: str
    schema: str
    manifest: str
    package: tuple[str, str]
    kinds: tuple[str, str]
    is_kebab: bool

    def name(self, name: str) -> str:
        """The name of an element of the standard."""
        return f"qti-{kebab(name)}" if self.is_kebab else name

    def element(self, name: str, attributes: dict[str, str], *inside: str) -> Markup:
        """An element of the standard; those of HTML have `markup.element`."""
        named = {kebab(k) if self.is_kebab else k: value for k, value in attributes.items()}
        return element(self.name(name), named, *inside)


def kebab(name: str) -> str:
    """A name with hyphens.

    >>> kebab("responseIf"), kebab("xsi:schemaLocation")
    ('response-if', 'xsi:schemaLocation')
    """
    return name if ":" in name else CAPITAL.sub(r"-\1", name).lower()


IMS = "http://www.imsglobal.org/xsd"
QTI_2_1 = Release(
    space=f"{IMS}/imsqti_v2p1",
    schema=f"{IMS}/qti/qtiv2p1/imsqti_v2p1.xsd",
    manifest=f"{IMS}/imscp_v1p1",
    package=("QTIv2.1 Package", "1.0.0"),
    kinds=("imsqti_item_xmlv2p1", "imsqti_test_xmlv2p1"),
    is_kebab=False,
)
QTI_3_0 = Release(
    space=f"{IMS}/imsqtiasi_v3p0",
    schema=f"{IMS}/qti/qtiv3p0/imsqti_asiv3p0_v1p0.xsd",
    manifest=f"{IMS}/qti/qtiv3p0/imscp_v1p1",
    package=("QTI Package", "3.0.0"),
    kinds=("imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0"),
    is_kebab=True,
)


def files(items: list[Item], title: str, release: Release) -> dict[str, str]:
    """Every file of a package, by name."""
    found = {f"items/{each.id}.xml": item(each, release) for each in items}
    found |= {_picture(each): each.picture for each in items if each.picture}
    return {
        "imsmanifest.xml": _manifest(items, release),
        "test.xml": _test(items, title, release),
        **found,
    }


def _picture(asked: Item) -> str:
    return f"images/{asked.id}.svg"


def item(asked: Item, release: Release) -> str:
    """One question as a file."""
    head = {"identifier": asked.id, "title": asked.title}
    ways = {"adaptive": "false", "timeDependent": "false"}
    body = [
        _response(asked, release),
        _outcome(release, SCORE, "float", "0", {"normalMaximum": str(asked.marks)}),
        _outcome(release, "MAXSCORE", "float", str(asked.marks), {}),
        _outcome(release, FEEDBACK, "identifier", "", {}),
        _outcome(release, EXPLAINED, "identifier", "", {}),
        release.element("itemBody", {}, *_body(asked, release)),
        _processing(asked, release),
        *(_modal(FEEDBACK, name, [text], release) for name, text in _feedbacks(asked)),
        _modal(EXPLAINED, WAY, asked.feedback, release),
    ]
    return _file(release, "assessmentItem", {**head, **ways}, body)


def _file(release: Release, name: str, attributes: dict[str, str], body: list[Markup]) -> str:
    spaces = {
        "xmlns": release.space,
        "xmlns:xsi": XSI,
        "xsi:schemaLocation": f"{release.space} {release.schema}",
    }
    return f"{DECLARATION}{release.element(name, {**spaces, **attributes}, *body)}\n"


def _ids(asked: Item) -> list[str]:
    return [f"choice_{number}" for number in range(1, len(asked.choices) + 1)]


def _response(asked: Item, release: Release) -> Markup:
    rights = [asked.value]
    if asked.choices:
        both = zip(_ids(asked), asked.choices, strict=True)
        rights = [name for name, choice in both if choice.right]
    values = [release.element("value", {}, each) for each in rights]
    return release.element(
        "responseDeclaration",
        {
            "identifier": RESPONSE,
            "cardinality": "multiple" if asked.is_several else "single",
            "baseType": "identifier" if asked.choices else "float",
        },
        release.element("correctResponse", {}, *values),
    )


def _outcome(release: Release, name: str, kind: str, default: str, more: dict[str, str]) -> Markup:
    about = {"identifier": name, "cardinality": "single", "baseType": kind, **more}
    if not default:
        return release.element("outcomeDeclaration", about)
    value = release.element("defaultValue", {}, release.element("value", {}, default))
    return release.element("outcomeDeclaration", about, value)


def _body(asked: Item, release: Release) -> Iterator[Markup]:
    yield element("p", {}, asked.stem)
    if asked.picture:
        about = {"src": f"../{_picture(asked)}", "alt": asked.picture_words}
        yield element("p", {}, element("img", about))
    if not asked.choices:
        entry = release.element(
            "textEntryInteraction", {"responseIdentifier": RESPONSE, "expectedLength": "12"}
        )
        yield element("p", {}, "Answer: ", entry, f" {asked.unit}" if asked.unit else "")
        return
    most = "0" if asked.is_several else "1"
    about = {"responseIdentifier": RESPONSE, "shuffle": "false", "maxChoices": most}
    yield release.element(
        "choiceInteraction",
        about,
        *(
            release.element("simpleChoice", {"identifier": name}, choice.text)
            for name, choice in zip(_ids(asked), asked.choices, strict=True)
        ),
    )


def _processing(asked: Item, release: Release) -> Markup:
    """Full marks for what is right, what its method is worth for a slip, and nothing else."""
    variable = release.element("variable", {"identifier": RESPONSE})
    correct = release.element("correct", {"identifier": RESPONSE})
    if asked.choices:
        is_right = release.element("match", {}, variable, correct)
    else:
        is_right = _near(release, asked.value, asked.tolerance)
    branches = [release.element("responseIf", {}, is_right, _set(release, asked.marks))]
    for number, slip in enumerate(asked.slips, start=1):
        done = (_set(release, slip.marks), _tell(release, f"slip_{number}"))
        near = _near(release, slip.value, slip.tolerance)
        branches.append(release.element("responseElseIf", {}, near, *done))
    if not asked.is_several:
        branches += [_chosen(release, name, variable) for name, _ in _told(asked)]
    condition = release.element("responseCondition", {}, *branches)
    return release.element("responseProcessing", {}, condition, _tell(release, WAY, EXPLAINED))


def _near(release: Release, value: str, tolerance: str) -> Markup:
    """Whether a number was given that lies no further off than it may.

    `equal` has a tolerance of its own, and a widespread player passes nothing by it. Two bounds say
    the same to every player. Nothing at all would count as nought with some: it is kept out.
    """
    variable = release.element("variable", {"identifier": RESPONSE})
    given = release.element("not", {}, release.element("isNull", {}, variable))
    far = [Decimal(value) - Decimal(tolerance), Decimal(value) + Decimal(tolerance)]
    least, most = (release.element("baseValue", {"baseType": "float"}, f"{each:f}") for each in far)
    bounds = (
        release.element("gte", {}, variable, least),
        release.element("lte", {}, variable, most),
    )
    return release.element("and", {}, given, *bounds)


def _chosen(release: Release, name: str, variable: Markup) -> Markup:
    value = release.element("baseValue", {"baseType": "identifier"}, name)
    match = release.element("match", {}, variable, value)
    return release.element("responseElseIf", {}, match, _tell(release, f"said_{name}"))


def _set(release: Release, marks: int) -> Markup:
    value = release.element("baseValue", {"baseType": "float"}, decimal(marks))
    return release.element("setOutcomeValue", {"identifier": SCORE}, value)


def _tell(release: Release, name: str, outcome: str = FEEDBACK) -> Markup:
    value = release.element("baseValue", {"baseType": "identifier"}, name)
    return release.element("setOutcomeValue", {"identifier": outcome}, value)


def _told(asked: Item) -> Iterator[tuple[str, Choice]]:
    """The wrong choices of which something is said."""
    for name, choice in zip(_ids(asked), asked.choices, strict=True):
        if choice.feedback and not choice.right:
            yield name, choice


def _feedbacks(asked: Item) -> Iterator[tuple[str, str]]:
    for number, slip in enumerate(asked.slips, start=1):
        yield f"slip_{number}", slip.feedback
    if not asked.is_several:
        yield from ((f"said_{name}", choice.feedback) for name, choice in _told(asked))


def _modal(outcome: str, name: str, lines: Sequence[str], release: Release) -> Markup:
    about = {"outcomeIdentifier": outcome, "identifier": name, "showHide": "show"}
    words = [element("p", {}, line) for line in lines]
    inside = [release.element("contentBody", {}, *words)] if release.is_kebab else words
    return release.element("modalFeedback", about, *inside)


def _test(items: list[Item], title: str, release: Release) -> str:
    refs = [
        release.element(
            "assessmentItemRef", {"identifier": each.id, "href": f"items/{each.id}.xml"}
        )
        for each in items
    ]
    section = {"identifier": "section", "title": title, "visible": "true"}
    part = {"identifier": "part", "navigationMode": "nonlinear", "submissionMode": "simultaneous"}
    scores = release.element(
        "sum", {}, release.element("testVariables", {"variableIdentifier": SCORE})
    )
    total = release.element("setOutcomeValue", {"identifier": SCORE}, scores)
    body = [
        _outcome(release, SCORE, "float", "0", {}),
        release.element("testPart", part, release.element("assessmentSection", section, *refs)),
        release.element("outcomeProcessing", {}, total),
    ]
    return _file(release, "assessmentTest", {"identifier": "test", "title": title}, body)


def _manifest(items: list[Item], release: Release) -> str:
    of_item, of_test = release.kinds
    schema, version = release.package
    resources = [_resource("test", of_test, "test.xml", [each.id for each in items])]
    resources += [
        _resource(each.id, of_item, f"items/{each.id}.xml", [], _picture(each) * bool(each.picture))
        for each in items
    ]
    manifest = element(
        "manifest",
        {"xmlns": release.manifest, "identifier": "paper"},
        element(
            "metadata",
            {},
            element("schema", {}, schema),
            element("schemaversion", {}, version),
        ),
        element("organizations", {}),
        element("resources", {}, *resources),
    )
    return f"{DECLARATION}{manifest}\n"


def _resource(name: str, kind: str, file: str, needs: list[str], picture: str = "") -> Markup:
    return element(
        "resource",
        {"identifier": f"r_{name}", "type": kind, "href": file},
        *(element("file", {"href": each}) for each in (file, picture) if each),
        *(element("dependency", {"identifierref": f"r_{each}"}) for each in needs),
    )
