"""An edition says by itself that it is old, or that a figure in it is no longer in force."""

from __future__ import annotations

import json
import shutil
from datetime import date, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect

from build_tools.site import offline, package, upcoming_changes
from build_tools.sources.host import settings
from tests.offline.server import served

DAY = date(2026, 11, 25)
PAGES = ("index.html", "procedures/before_you_start.html", "reference/sources.html")


def entry(start: str, until: str | None = None) -> dict[str, str | None]:
    return {"from": start, "until": until}


@pytest.mark.parametrize(
    ("values", "first"),
    [
        ([entry("2020-01-01")], None),
        ([entry("undated")], None),
        ([entry("2020-01-01"), entry("2026-11-25")], None),
        ([entry("2020-01-01", "2027-03-31")], date(2027, 4, 1)),
        ([entry("2020-01-01", "2026-11-25")], date(2026, 11, 26)),
        ([entry("2020-01-01"), entry("2026-12-01"), entry("2027-01-01")], date(2026, 12, 1)),
        ([entry("2020-01-01", "2027-12-31"), entry("2027-06-01")], date(2027, 6, 1)),
        ([entry("2020-01-01", "2021-12-31")], None),
    ],
)
def test_the_first_day_on_which_a_figure_is_no_longer_the_one_in_force(values, first):
    assert upcoming_changes.first_change(values, DAY) == first


def test_figures_and_tables_that_change_are_listed_by_day():
    later = [entry("2020-01-01", "2027-03-31")]
    sooner = [entry("2020-01-01"), entry("2026-12-01")]
    bundle = {
        "figures": {"a.b": {"label": "Tolerance", "values": later}},
        "tables": {"c": {"title": "Distances", "values": sooner}},
    }
    assert upcoming_changes.after(bundle, DAY) == [
        {"day": "2026-12-01", "label": "Distances"},
        {"day": "2027-04-01", "label": "Tolerance"},
    ]


def on(page: Page, day: date) -> None:
    page.clock.set_fixed_time(f"{day.isoformat()}T12:00:00")


@pytest.fixture
def page(opened: Browser):
    context = opened.new_context(service_workers="block")
    yield context.new_page()
    context.close()


def built(editions) -> date:
    return date.fromisoformat(package.edition_of(editions.hosted)[0])


def test_every_page_of_an_old_edition_says_so_also_from_a_folder(page, editions):
    limit = settings().good_for_days
    notice = page.locator("[data-hb-age]")
    on(page, built(editions) + timedelta(days=limit))
    page.goto((editions.folder / PAGES[0]).as_uri())
    expect(page.locator("[data-hb-offline]")).to_be_visible()
    expect(notice).to_be_hidden()
    on(page, built(editions) + timedelta(days=limit + 1))
    for name in PAGES:
        page.goto((editions.folder / name).as_uri())
        expect(notice).to_contain_text(f"This edition is {limit + 1} days old")
        expect(notice).to_be_visible()


def test_a_figure_that_has_changed_since_is_named(page, editions):
    first, later = built(editions) + timedelta(days=10), built(editions) + timedelta(days=40)
    facts = offline.FACTS
    script = (editions.hosted / facts).read_text("utf-8")
    given = json.loads(script.partition(" = ")[2].rstrip(";\n"))
    given["changes"] = [
        {"day": first.isoformat(), "label": "Tolerance <b>of</b> pressure"},
        {"day": later.isoformat(), "label": "Period of purging"},
    ]
    with served(editions.hosted) as site:
        site.spoilt[facts] = f"window.hbEdition = {json.dumps(given)};".encode()
        on(page, first)
        page.goto(site.address)
        notice = page.locator("[data-hb-age]")
        expect(notice).to_contain_text("Tolerance <b>of</b> pressure (since ")
        expect(notice).not_to_contain_text("Period of purging")
        page.locator('#hb-main a[href^="reference/"]').first.click()
        page.wait_for_url("**/reference/**")
        expect(notice).to_be_visible()
        # The app stays open, and the next page comes without a load.
        on(page, built(editions) + timedelta(days=settings().good_for_days + 1))
        page.evaluate("() => { window.hbStays = true; }")
        page.locator(".md-header .md-logo").click()
        expect(page.locator(".hb-wants")).to_be_visible()
        assert page.evaluate("window.hbStays") is True
        expect(notice).to_contain_text(f"This edition is {settings().good_for_days + 1} days old")
        expect(notice).to_contain_text("Period of purging (since ")


def test_a_folder_too_names_a_figure_that_has_changed_since(page, editions, tmp_path):
    folder = tmp_path / "folder"
    shutil.copytree(editions.folder, folder)
    later = built(editions) + timedelta(days=10)
    facts = folder / offline.FACTS
    changed = [{"day": later.isoformat(), "label": "Tolerance of pressure"}]
    given = json.loads(facts.read_text("utf-8").partition(" = ")[2].rstrip(";\n"))
    text = json.dumps({**given, "changes": changed})
    facts.write_text(f"window.hbEdition = {text};", "utf-8")
    for day, says in ((later - timedelta(days=1), False), (later, True)):
        on(page, day)
        for name in PAGES:
            page.goto((folder / name).as_uri())
            expect(page.locator("[data-hb-offline]")).to_be_visible()
            expect(page.locator("[data-hb-age]")).to_be_visible(visible=says)
    expect(page.locator("[data-hb-age]")).to_contain_text("Tolerance of pressure (since ")


def test_a_device_whose_date_is_wrong_is_told(page, editions):
    on(page, built(editions) - timedelta(days=1))
    page.goto((editions.folder / "index.html").as_uri())
    expect(page.locator("[data-hb-age]")).to_contain_text("Set the device's date.")
