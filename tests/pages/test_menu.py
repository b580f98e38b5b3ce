"""The menu: which headings stand where, so that no reader unfolds anything."""

from __future__ import annotations

from build_tools.pages.navigation import Branch, Group, NavItem, Section, menu


def page(name: str) -> NavItem:
    return NavItem(f"{name}.html", name, "")


ASK, TEST, PURGE, NOTE, SIZE, RATE, GASES = map(
    page, ("ask", "test", "purge", "note", "size", "rate", "gases")
)
GROUPS = [
    Group(
        "procedures",
        "Procedures",
        [
            Section("ready", "Ready", "", [ASK], "Visit"),
            Section("pipes", "Pipes", "", [TEST]),
            Section("input", "Input", "", [PURGE]),
        ],
    ),
    Group("record", "Record", [Section("record", "Record", "", [NOTE], "Visit")]),
    Group(
        "calculators",
        "Calculators",
        [
            Section("pipes", "Pipes", "", [SIZE], "Look up"),
            Section("input", "Input", "", [RATE], "Look up"),
        ],
    ),
    Group("reference", "Reference", [Section("reference", "Reference", "", [GASES], "Look up")]),
]


def test_parts_follow_as_their_sections_do_and_headings_come_only_between_many():
    assert menu(GROUPS) == [
        Branch("Visit", [ASK, NOTE]),
        Branch("Procedures", [Branch("Pipes", [TEST]), Branch("Input", [PURGE])]),
        Branch(
            "Look up",
            [
                Branch("Calculators", [Branch("Pipes", [SIZE]), Branch("Input", [RATE])]),
                Branch("Reference", [GASES]),
            ],
        ),
    ]


def test_without_parts_of_its_own_a_menu_has_the_kinds_of_page():
    plain = [Group("reference", "Reference", [Section("all", "All", "", [GASES])])]
    assert menu(plain) == [Branch("Reference", [GASES])]
