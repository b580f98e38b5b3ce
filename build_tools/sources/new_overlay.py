"""The command `new overlay`: begin a folder that a host lays over the handbook."""

from datetime import date
from pathlib import Path

from build_tools.sources.overlays import NAME, TAKEN

TEMPLATES = Path(__file__).parent / "new_files"
FILES = {
    "overlay.yaml": ("overlay.yaml", "whose it is: a name, and what is commented out"),
    "overlay_readme.md": ("README.md", "what else may stand in the folder, to copy from"),
    "overlay_page.md": ("pages/about.md", "a page of your own"),
}


class NotBegunError(Exception):
    """Nothing was written. Its text says why and what to do."""


def begin(folder: Path, day: date) -> str:
    """Write the first files of an overlay; give what is told of them.

    Raises:
        NotBegunError: The folder is there already, or its name can't be an overlay's.
    """
    name = folder.resolve().name
    if not NAME.fullmatch(name) or name in TAKEN:
        raise NotBegunError(
            f"'{name}' can't be the folder of an overlay.\n"
            "Fix: use letters, digits, - and _, such as northmoor."
        )
    if folder.exists():
        raise NotBegunError(
            f"{folder.resolve()}: already there, so nothing was written.\n"
            "Fix: choose another name, or edit what is there."
        )
    title = name.replace("_", " ").replace("-", " ").title()
    for template, (file, _) in FILES.items():
        text = (TEMPLATES / f"{template}.template").read_text("utf-8")
        for word, by in (("STEM", name), ("TITLE", title), ("TODAY", day.isoformat())):
            text = text.replace(word, by)
        path = folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    width = max(len(file) for file, _ in FILES.values())
    lines = [f"  {file:{width}}  {what}" for file, what in FILES.values()]
    shown = f"Then run: python3 build_tools/start.py serve --overlay {folder}"
    return "\n".join([f"Created in {folder.resolve()}:", *lines, shown])
