"""Third-party notices: what is shipped beside our own work, under which licence, in whose words."""

from pathlib import Path

from build_tools.site.licences import NoLicenceTextError, Part, parts

FILE = "third_party_notices.txt"


def write(out: Path) -> None:
    """Write the notices into the folder of the site; stop when a text is missing."""
    shipped = sorted(parts(), key=lambda part: part.name.lower())
    missing = [f"{part.name} {part.version}" for part in shipped if not part.text.strip()]
    if missing:
        message = (
            f"No licence text was found for: {', '.join(missing)}.\n"
            "Fix: see build_tools/site/licences.py. Name where its text is, or don't ship it."
        )
        raise NoLicenceTextError(message)
    out.mkdir(parents=True, exist_ok=True)
    (out / FILE).write_text(_page(shipped), encoding="utf-8", newline="\n")


def _page(shipped: list[Part]) -> str:
    lines = ["Works by others in this handbook, with their licences.", ""]
    lines += [f"- {' '.join(filter(None, (part.name, part.version)))}" for part in shipped]
    for part in shipped:
        title = " ".join(filter(None, (part.name, part.version)))
        lines += ["", "=" * 78, title, f"Licence: {part.licence.splitlines()[0]}"]
        lines += [f"Source: {part.source}"] if part.source else []
        lines += ["", part.text]
    return "\n".join(lines) + "\n"
