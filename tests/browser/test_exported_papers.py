"""Exported papers in players of others: scorm-again runs SCORM 1.2, qti-components runs QTI 3.0.

Both come from npm and are shipped to nobody. What they score is what is scored here.
"""

from __future__ import annotations

from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Page, Route, expect

from build_tools.setup.paths import WEB
from calcs.practice import draw, paper_marks, papers, put
from tests.browser.conftest import NewPage
from tests.calcs.practice.exported import files, found, numbers
from tests.calcs.practice.held import held, pack

PLAYERS = WEB / "node_modules"
SCORM = (PLAYERS / "scorm-again/dist/scorm12.min.js").read_bytes
QTI = (PLAYERS / "@citolab/qti-components/cdn/index.global.js").read_bytes
PLATFORM = """<!doctype html><title>Platform</title><script src="player.js"></script>
<script>window.API = new Scorm12API({autocommit: false, logLevel: 5});</script>
<iframe src="package/index.html" width="390" height="800"></iframe>"""
PLAYER = """<!doctype html><title>Player</title><script src="player.js"></script><body></body>"""
KINDS = {"html": "text/html", "js": "text/javascript", "css": "text/css", "svg": "image/svg+xml"}
SCORE = """async ([url, responses]) => {
    const player = document.createElement('qti-item');
    const place = document.createElement('item-container');
    place.setAttribute('item-url', url);
    player.append(place);
    document.body.replaceChildren(player);
    const item = await new Promise((found) =>
        player.addEventListener('qti-assessment-item-connected', ({detail}) => found(detail)));
    await item.updateComplete;
    const score = (response) => {
        item.updateResponseVariable('RESPONSE', response);
        item.processResponse();
        return Number(item.getOutcome('SCORE').value);
    };
    return responses.map(score);
}"""


def platform(page: Page, form: str, whole: str, player: bytes) -> None:
    """Answers for a platform: its page, its player, and the files of a package."""

    def answer(route: Route) -> None:
        name = urlsplit(route.request.url).path.partition("/platform/")[2]
        body: Any = {"": whole, "player.js": player}.get(name)
        if body is None:
            body = files(form).get(name.removeprefix("package/"), b"")
        ending = name.rpartition(".")[2] or "html"
        route.fulfill(body=body, content_type=KINDS.get(ending, "application/xml"))

    page.route("**/platform/**", answer)


def test_a_package_of_scorm_tells_a_platform_its_score_and_asks_no_other_host(
    new_page: NewPage,
) -> None:
    page = new_page("platform/", before=lambda page: platform(page, "scorm12", PLATFORM, SCORM()))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    frame = page.frame_locator("iframe")
    expect(frame.locator("fieldset")).to_have_count(40)
    whole, got = 0, 0
    for place, one in enumerate(found().values()):
        worth = paper_marks.worth(one, pack())
        whole += worth
        box = frame.locator("fieldset").nth(place)
        if one.asks in put.NUMBERS:
            box.locator("input").fill(f"{one.right:.9f}")
            got += worth
        elif one.asks not in {"order", "choose_all"} and place % 2:
            right = put.right_answer(one)["chosen"][0]
            places = [
                each["id"] if one.asks == "verdict" else at for at, each in enumerate(one.items)
            ]
            box.locator("input").nth(places.index(right)).check()
            got += worth
    frame.get_by_role("button", name="Hand it in").click()
    needed = papers.marks_to_pass(held()["whole_visit"], whole)
    expect(frame.locator("#total")).to_have_text(f"{got} of {whole} marks. Pass mark: {needed}.")
    told = page.evaluate("""({raw: API.cmi.core.score.raw, most: API.cmi.core.score.max,
        status: API.cmi.core.lesson_status, fault: API.lmsGetLastError(),
        isOver: API.isTerminated()})""")
    status = "passed" if got >= needed else "failed"
    raw = str(100 * got // whole)
    assert told == {"raw": raw, "most": "100", "status": status, "fault": "0", "isOver": True}
    here = urlsplit(page.url).netloc
    assert {urlsplit(each).netloc for each in asked} <= {here}


def test_a_player_of_qti_scores_each_number_as_it_is_scored_here(new_page: NewPage) -> None:
    page = new_page("platform/", before=lambda page: platform(page, "qti30", PLAYER, QTI()))
    for name, one in numbers():
        wrong = draw.wrong_numbers(one, pack())
        values = [one.right, one.right * 7919 + 4999, *(each.value for _, each in wrong)]
        texts = [f"{value:.12f}" for value in values]
        given = [{"text": text, "unit": one.unit} for text in texts]
        wanted = [paper_marks.marked(one, each, pack())["marks"] for each in given]
        asked = [f"package/items/{name}.xml", [*texts, None]]
        assert page.evaluate(SCORE, asked) == [*wanted, 0], name
