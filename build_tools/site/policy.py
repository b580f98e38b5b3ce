"""The policy of the pages: nothing runs or loads but the files that the site brings.

No page holds a script, a style or a handler of its own but the few scripts that the theme must run
before a page is painted. Those are the same on every page and are named by their hashes, so one
text does for all. Our templates write it into each; the samples in `servers/` say it.
"""

import base64
import hashlib
import re
from collections.abc import Iterable

_SCRIPT = re.compile(r"<script\b([^>]*)>(.*?)</script>", re.DOTALL)
_RUNS_NOT = re.compile(r'\bsrc=|type="application/json"')


def policy_for(scripts: Iterable[str]) -> str:
    """The policy under which these scripts may stand in a page, and no other."""
    hashes = "".join(f" '{each}'" for each in sorted({_hash(text) for text in scripts}))
    kinds = {
        "default-src": "'none'",
        "script-src": f"'self' 'wasm-unsafe-eval'{hashes}",
        "style-src": "'self'",
        "img-src": "'self' data:",
        "font-src": "'self'",
        "connect-src": "'self'",
        "worker-src": "'self'",
        "manifest-src": "'self'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{kind} {allowed}" for kind, allowed in kinds.items())


def scripts_in(html: str) -> list[str]:
    """The text of each script that stands in a page and runs."""
    return [text for given, text in _SCRIPT.findall(html) if not _RUNS_NOT.search(given)]


def for_folder(page: str) -> str:
    """A page with the policy that a folder needs: workers are made from text, at blob addresses.

    Raises:
        ValueError: The page has no policy to change.
    """
    hosted, changed = "worker-src 'self'", "worker-src blob:"
    if page.count(hosted) != 1:
        raise ValueError(f"A page lacks {hosted} in its policy.")
    return page.replace(hosted, changed)


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
