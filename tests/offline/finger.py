"""A finger on a page: it touches what can be seen and reached, and knows whether it met it.

Each touch costs few words with the browser: a walk has hundreds.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Locator, Page, expect

from tests.offline.kept_edition import LONG_MS

TRIES, SOON_MS = 6, 2_000
# Where a finger meets the thing once it stands still, and what lies over it there. What comes above
# it may move it away at any time, so the page remembers what the next finger meets, and a finger
# that meets another thing does nothing: by a link it would leave the page.
REACH = """async place => {
    const frame = () => new Promise(done => requestAnimationFrame(done));
    const middle = () => {
        const box = place.getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2];
    };
    // What is in reach is touched where it is; the edges belong to bars.
    const isInReach = ([x, down]) => down > innerHeight / 5 && down < innerHeight * 4 / 5 &&
        place.contains(document.elementFromPoint(x, down));
    if (!isInReach(middle())) place.scrollIntoView({block: 'center'});
    let [x, y] = middle();
    for (let frames = 0; frames < 60; frames++) {
        await frame();
        const [now, down] = middle();
        if (now === x && down === y) break;
        [x, y] = [now, down];
    }
    const met = document.elementFromPoint(x, y);
    if (!place.contains(met)) return {x, y, over: (met?.outerHTML ?? 'nothing').slice(0, 120)};
    globalThis.hbMet = new Promise(done => {
        const meet = event => {
            const isMet = place.contains(event.target);
            if (!isMet) {
                event.preventDefault();
                event.stopImmediatePropagation();
            }
            done(isMet);
        };
        const signal = AbortSignal.timeout(15_000);
        addEventListener('click', meet, {capture: true, once: true, signal});
        signal.addEventListener('abort', () => done(false));
    });
    return {x, y, over: ''};
}"""
# The whole button answers, its word included.
REACH_FIELD = f"""selector => {{
    const field = document.querySelector(selector);
    return ({REACH})(field.type === 'radio' ? field.parentElement : field);
}}"""
HOLDS = """async selector =>
    await globalThis.hbMet && document.querySelector(selector).matches(':focus, :checked')"""
# Nothing is remembered where the page gave way to another.
MET = "globalThis.hbMet ?? true"


def touch(place: Locator, done: Callable[[], None]) -> None:
    """Touch a thing until it has done what it does: what comes above it may move it away."""
    over = ""
    for patience_ms in (LONG_MS, *[SOON_MS] * (TRIES - 1)):
        try:
            at = place.evaluate(REACH, timeout=patience_ms)
        except PlaywrightError:
            # It is not there any more: the finger before met it, and a busy machine said so late.
            return done()
        over = at["over"]
        if over or not tap(place.page, at):
            continue
        try:
            return done()
        except AssertionError:
            continue
    raise AssertionError(f"{place} does not answer to a finger; over it lies: {over}")


def tap(page: Page, at: dict[str, float]) -> bool:
    """Whether the finger met what it was to meet."""
    page.touchscreen.tap(at["x"], at["y"])
    try:
        met: bool = page.evaluate(MET)
    except PlaywrightError:  # the page gives way to another just now
        return True
    return met


def follow(link: Locator, stem: str) -> None:
    """Touch a link, and be on its page."""
    at = re.compile(rf"/{stem}\.html(#.*)?$")
    touch(link, lambda: expect(link.page).to_have_url(at, timeout=LONG_MS))


def put(page: Page, field: str, text: str = "") -> None:
    """Touch a field and type into it, or touch the button of a word to choose that.

    Args:
        page: That it is on.
        field: A selector of the field, or of the radio button behind the word.
        text: What is typed; nothing where a word is chosen.
    """
    over = ""
    for _ in range(TRIES):
        at = page.evaluate(REACH_FIELD, field)
        over = at["over"]
        if over:
            continue
        page.touchscreen.tap(at["x"], at["y"])
        if page.evaluate(HOLDS, field):
            if text:
                page.keyboard.insert_text(text)
            return
    raise AssertionError(f"{field} does not answer to a finger; over it lies: {over}")
