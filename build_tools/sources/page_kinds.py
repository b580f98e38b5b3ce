"""The kinds of page: a new one is a row here, and a file of its name in three places.

`schemas/NAME.yaml` says what its files look like, `pages/NAME.py` what is shown of one (`context`),
and `pages/templates/NAME.html.jinja` how.
"""

from typing import NamedTuple


class PageKind(NamedTuple):
    """A kind of page.

    Args:
        name: What its files say under `kind`.
        folder: Where they stand in `content/`, and its pages in the site.
        title: What one of them is called.
        titles: What they are called together, as in the menu.
        stem: Its one file, where others of that folder are of another kind.
    """

    name: str
    folder: str
    title: str
    titles: str
    stem: str = "*"


# In the order of the menu.
PAGE_KINDS = (
    PageKind("procedure", "procedures", "Procedure", "Procedures"),
    PageKind("visit", "visit", "Visit", "Visit"),
    PageKind("record", "record", "Record", "Record"),
    PageKind("own", "own", "Your own", "Your own"),
    PageKind("card", "cards", "Cards", "Cards"),
    PageKind("calculator", "calculators", "Calculator", "Calculators"),
    PageKind("reference", "reference", "Reference", "Reference"),
    PageKind("papers", "practise", "Papers", "Practise", stem="papers"),
    PageKind("results", "practise", "Class results", "Practise", stem="results"),
    PageKind("practice", "practise", "Practice", "Practise", stem="session"),
    PageKind("revision", "revise", "Revision", "Revise"),
)
FOLDERS = {kind.folder: kind for kind in PAGE_KINDS}
NAMES = {kind.name: kind for kind in PAGE_KINDS}


def step_anchor(step: str) -> str:
    """Where a step stands on its page. `web/src/visit-page/fit-view.js` names it likewise.

    >>> step_anchor("found_maximum")
    'step-found-maximum'
    """
    return f"step-{step.replace('_', '-')}"
