"""The policy of the pages: nothing runs or loads but the files that the site brings.

No page holds a script, a style or a handler of its own, so one text does for all, and a page may
be shown inside another's. The theme writes it into each; the servers of `build_tools/site/servers/`
say the same.
"""

POLICY = "; ".join(
    f"{kind} {allowed}"
    for kind, allowed in {
        "default-src": "'none'",
        "script-src": "'self' 'wasm-unsafe-eval'",
        "style-src": "'self'",
        "img-src": "'self' data:",
        "font-src": "'self'",
        "connect-src": "'self'",
        "worker-src": "'self'",
        "manifest-src": "'self'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }.items()
)


def for_folder(page: str) -> str:
    """A page with the policy that a folder needs: its worker is made from text, at a blob address.

    Raises:
        ValueError: The page has no policy to change.
    """
    hosted, changed = "worker-src 'self'", "worker-src blob:"
    if page.count(hosted) != 1:
        raise ValueError(f"A page lacks {hosted} in its policy.")
    return page.replace(hosted, changed)
