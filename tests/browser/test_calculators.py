"""Every calculator's page answers as its worked example, and what the reader types."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from calcs.engine.registry import calculators
from tests.browser.accessibility import faults
from tests.browser.calculator_page import GAS_RATE, READINGS, START_MS, CalculatorPage
from tests.browser.conftest import PHONE, TABLET, NewPage, Warm

# By hand: 0.1 m³ in 120 s is 3 m³ an hour. A cubic foot is 0.028316846592 m³ by definition,
# so 0.1 m³ is 3.53146667 ft³.

# How many first answers were marked, once there is one.
MARKS = """() => new Promise((resolve) => {
    new PerformanceObserver((list) => {
        const marks = list.getEntriesByName('hb:first-answer');
        if (marks.length) resolve(marks.length);
    }).observe({type: 'mark', buffered: true});
})"""


# Types another figure and tells which part of the answer changed first.
# The status, which says that the calculator is working, is neither.
ORDER = """root => new Promise((resolve) => {
    const PARTS = {answer: '[data-hb-answer]', working: 'details[data-hb-working]'};
    const seen = [];
    new MutationObserver((records) => {
        for (const {target} of records) {
            const place = target instanceof Element ? target : target.parentElement;
            for (const [part, where] of Object.entries(PARTS)) {
                if (place?.closest(where) && !seen.includes(part)) seen.push(part);
            }
        }
        if (seen.length === 2) resolve(seen);
    }).observe(root, {subtree: true, childList: true, characterData: true});
    const field = root.querySelector('[name="volume"]');
    field.value = '0.2';
    field.dispatchEvent(new Event('input', {bubbles: true}));
})"""

# Keeps what is heard by a channel.
CHANNELS = """window.hbHeard = [];
const Channel = BroadcastChannel;
window.BroadcastChannel = class extends Channel {
    constructor(name) {
        super(name);
        this.addEventListener('message', ({data}) => window.hbHeard.push(data));
    }
};"""


DAY_OF_TEST = re.compile(r" ?Date of the test\d{1,2} \w+ \d{4}")


@pytest.fixture
def gas_rate(warm: Warm) -> CalculatorPage:
    return CalculatorPage(warm("calculators/gas_rate.html"), "gas_rate")


PATIENCE = 100  # tenths of a second until all parts of an answer have come
KEEP_CHARTS = """root => {
    window.hbBuilt = root.querySelector('[data-hb-charts]')?.cloneNode(true);
}"""
SAME_CHARTS = """root => {
    const [built, live] = [window.hbBuilt, root.querySelector('[data-hb-charts]')];
    return [...live.children].map((figure, at) => figure.isEqualNode(built.children[at]));
}"""


def test_live_answer_of_each_example_is_the_one_that_the_build_wrote(warm):
    wrong = {}
    for calculator, facts in calculators().items():
        shown = CalculatorPage(warm(f"calculators/{calculator}.html"), calculator)
        built = (shown.answers(), shown.outcomes(), shown.result())
        assert built[0], calculator
        shown.root.evaluate(KEEP_CHARTS)
        shown.press("data-hb-fill-example")
        shown.expect_state("answered")
        # The working follows the figures. A reader's own answer says the day of the test; the built
        # one was made on none.
        for _ in range(PATIENCE):
            result = DAY_OF_TEST.sub("", shown.result())
            if result == built[2]:
                break
            shown.page.wait_for_timeout(100)
        found = (shown.answers(), shown.outcomes(), result)
        if found != built or shown.root.locator("[data-hb-own]").count() != 1:
            wrong[calculator] = (built, found)
        if facts.charts:
            live_charts_are_those_of_the_build(shown)
    assert wrong == {}


def live_charts_are_those_of_the_build(shown: CalculatorPage) -> None:
    built = shown.root.evaluate("() => window.hbBuilt.children.length")
    assert built >= 1
    live = shown.root.locator("[data-hb-charts]:not([data-hb-old]) figure")
    expect(live).to_have_count(built)
    assert shown.root.evaluate(SAME_CHARTS) == [True] * built, shown.calculator


def test_answers_what_is_typed_while_it_starts(new_page: NewPage):
    gas_rate = CalculatorPage(new_page("calculators/gas_rate.html"), "gas_rate")
    gas_rate.control("volume").press_sequentially("0.1")
    gas_rate.control("elapsed").press_sequentially("120")
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    gas_rate.expect_state("answered")
    gas_rate.enter(elapsed="240")
    gas_rate.expect_answer("flow_rate", "1.500\u00a0m³/h")
    assert gas_rate.page.evaluate(MARKS) == 1


def test_the_figures_change_first_and_the_working_follows_them(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    assert gas_rate.root.evaluate(ORDER) == ["answer", "working"]
    gas_rate.expect_answer("flow_rate", "6.00\u00a0m³/h")  # twice the gas in the same time
    step = gas_rate.root.locator('[data-hb-list="working"] > li').first
    expect(step).to_contain_text("0.2\u00a0m³ ÷ 120\u00a0s")


def test_what_the_reader_waits_for_also_comes_by_a_channel_that_no_key_holds_back(new_page):
    page = new_page(
        "calculators/gas_rate.html", before=lambda opened: opened.add_init_script(CHANNELS)
    )
    gas_rate = CalculatorPage(page, "gas_rate")
    gas_rate.enter(**READINGS)
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    gas_rate.enter(volume="0.2")
    gas_rate.expect_answer("flow_rate", "6.00\u00a0m³/h")
    gas_rate.enter(volume="much")
    gas_rate.expect_state("refused")
    *_, first, refusal = page.evaluate("hbHeard")
    assert first["first"]["answer"]["answers"][0]["text"] == "6.00\u00a0m³/h"
    assert refusal["result"]["refused"][0]["field"] == "volume"


def test_without_such_a_channel_answers_come_all_the_same(new_page):
    gone = "delete window.BroadcastChannel"
    page = new_page("calculators/gas_rate.html", before=lambda opened: opened.add_init_script(gone))
    gas_rate = CalculatorPage(page, "gas_rate")
    gas_rate.enter(**READINGS)
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    assert gas_rate.root.evaluate(ORDER) == ["answer", "working"]
    gas_rate.expect_answer("flow_rate", "6.00\u00a0m³/h")


def test_a_live_verdict_shows_where_its_limit_comes_from_and_how_well_it_is_known(gas_rate):
    gas_rate.enter(volume="0.05", elapsed="120", plate_input="27")  # not the example's outcome
    gas_rate.expect_state("answered")
    verdict = gas_rate.root.locator('[data-hb-verdict="heat_input"]')
    expect(verdict).to_have_attribute("data-outcome", "does_not_meet")
    expect(verdict.locator('[data-hb-slot="source"]')).to_be_visible()
    expect(verdict.locator('[data-hb-slot="provenance"]')).to_have_text("from memory")
    expect(verdict.locator('[data-hb-slot="provenance"]')).to_be_visible()
    expect(verdict.locator('[data-hb-fact="edition"]')).to_be_hidden()


def test_why_answers_have_no_uncertainty_follows_what_is_typed(warm):
    vessel = CalculatorPage(warm("calculators/expansion_vessel.html"), "expansion_vessel")
    why = vessel.root.locator("[data-hb-no-uncertainty]")
    vessel.enter(system_volume="120")
    vessel.expect_state("answered")
    expect(why).to_have_text("No ±: worked out from figures that are taken as they stand.")
    vessel.enter(static_height="4")  # good to half a metre: the water has an uncertainty
    expect(why).to_have_text(re.compile("^No ± for Expansion of the water; "))
    flue = CalculatorPage(warm("calculators/equivalent_flue_height.html"), "equivalent_flue_height")
    flue.press("data-hb-fill-example")
    flue.expect_state("answered")
    expect(flue.root.locator("[data-hb-no-uncertainty]")).to_be_hidden()


def test_all_verdicts_are_seen_at_once_and_what_is_out_of_order_is_unfolded(warm):
    shown = CalculatorPage(warm("calculators/burner_pressure.html"), "burner_pressure")
    shown.expect_state("ready")
    shown.press("data-hb-fill-example")
    shown.expect_state("answered")
    verdicts = shown.root.locator("[data-hb-verdict]")
    boxes = [box for box in (one.bounding_box() for one in verdicts.all()) if box]
    assert len(boxes) == 6
    assert boxes[-1]["y"] + boxes[-1]["height"] - boxes[0]["y"] < TABLET["height"]
    assert boxes[-1]["y"] < shown.root.locator("[data-hb-answer]").first.bounding_box()["y"]
    sentence = '[data-hb-verdict="{}"] [data-hb-slot="text"]'
    expect(shown.root.locator(sentence.format("found_max"))).to_be_visible()
    met = shown.root.locator(sentence.format("left_max"))
    expect(met).to_be_hidden()
    shown.root.locator('[data-hb-verdict="left_max"] summary').click()
    shown.enter(left_max="12.4")
    expect(met).to_contain_text("12.4")
    expect(met).to_be_visible()  # what the reader unfolds stays so


def test_on_a_phone_the_worst_verdict_stays_in_sight_and_leads_to_the_answer(warm):
    page = warm("calculators/burner_pressure.html")
    page.set_viewport_size(PHONE)
    shown = CalculatorPage(page, "burner_pressure")
    bar = shown.root.locator("[data-hb-summary-bar]")
    expect(bar).to_be_hidden()
    shown.enter(plate_max="12.5", tolerance="0.3", found_max="9.8", left_max="12.4")
    expect(bar).to_have_text("Does not meet the limit 1 of 2: Maximum, as found")
    shown.control("plate_max").focus()
    expect(bar).to_be_in_viewport()
    expect(shown.root.locator("[data-hb-verdict]").first).not_to_be_in_viewport()
    bar.click()
    expect(shown.root.locator("[data-hb-result-title]")).to_be_focused()
    expect(shown.root.locator("[data-hb-verdict]").first).to_be_in_viewport()
    assert faults(page, within="hb-calculator") == []
    shown.enter(found_max="12.6")
    expect(bar).to_have_text("Meets the limit 2 of 2: Maximum, as found; Maximum, as left")
    shown.press("data-hb-clear")
    expect(bar).to_be_hidden()


def test_printing_unfolds_the_answer_and_folds_it_again(warm):
    page = warm("calculators/burner_pressure.html")
    folded = page.locator("[data-hb-fold]:not([open])")
    expect(folded).to_have_count(4)
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(folded).to_have_count(0)
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(folded).to_have_count(4)


def test_in_a_step_no_invented_figure_can_be_taken_for_the_readers_own(warm):
    page = warm("procedures/burner_pressure.html")
    page.locator("summary", has_text="Burner pressure").click()
    shown = CalculatorPage(page, "burner_pressure")
    shown.expect_state("ready")
    expect(shown.root.locator("[data-hb-verdict]").first).to_be_hidden()
    expect(shown.root.locator("[data-hb-waiting]")).to_contain_text("Type your readings.")
    expect(shown.root.locator("[data-hb-fill-example]")).to_be_hidden()
    shown.enter(plate_max="12.5", found_max="9.8")
    shown.expect_state("answered")
    expect(shown.root.locator('[data-hb-verdict="found_max"]')).to_be_visible()
    # What to turn stands in the card of the answer, beside the form.
    expect(shown.root.locator(".hb-result__card")).to_contain_text("The maximum is low.")
    shown.press("data-hb-clear")
    expect(shown.root.locator("[data-hb-waiting]")).to_be_visible()


def test_answer_is_said_to_a_screen_reader(gas_rate):
    gas_rate.enter(**READINGS)
    status = gas_rate.root.locator("[data-hb-status]")
    expect(status).to_contain_text("3.000", timeout=START_MS)
    expect(status).to_have_attribute("role", "status")


def test_prints_the_answer_with_its_readings(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.expect_state("answered")
    gas_rate.page.emulate_media(media="print")
    expect(gas_rate.root.locator("[data-hb-form]")).to_be_hidden()
    given = gas_rate.root.locator('[data-hb-list="given"]')
    expect(given).to_be_visible()
    expect(given).to_contain_text("0.1\u00a0m³")
    expect(gas_rate.root.locator('[data-hb-answer="flow_rate"]')).to_be_visible()
