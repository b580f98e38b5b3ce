"""What of mkdocs-material goes into a site: its script, and sheets that are cut to what is used."""

import os
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from build_tools.site import stylesheet, theme_sheets
from build_tools.site.policy import policy_for, scripts_in

OURS = "handbook"  # the name of our colours, where a palette names the theme's
# Its search and its words in other languages, which ours takes the place of; and maps of its
# scripts and sheets, which no reader's browser asks for.
_LEFT_OUT = ("assets/javascripts/lunr/", "assets/javascripts/workers/", "assets/stylesheets/")
_MAP = ".map"
_FAVICON = "assets/images/favicon.png"
_MARKDOWN = "markdown.css"
# What runs before a page is painted. Each stands in a page only if a setting asks for it.
_EARLY = ("base", "palette", "content", "worker", "way", "announce", "consent", "outdated")


class _Loader(FileSystemLoader):
    """Lists no hidden folder. In one the theme has 14,000 icons, which MkDocs would pass over."""

    def list_templates(self) -> list[str]:
        found: set[str] = set()
        for top in self.searchpath:
            for folder, inside, names in os.walk(top):
                inside[:] = [each for each in inside if not each.startswith(".")]
                found.update(Path(folder, name).relative_to(top).as_posix() for name in names)
        return sorted(found)


def templates(config: MkDocsConfig, root: Path) -> Environment:
    """The theme's templates with ours over them. What Jinja compiles is kept for the next build.

    Args:
        config: The binder's settings.
        root: Folder of the project.
    """
    kept = root / ".cache" / "templates"
    kept.mkdir(parents=True, exist_ok=True)
    made = config.theme.get_env()
    made.loader = _Loader(config.theme.dirs)
    made.bytecode_cache = FileSystemBytecodeCache(str(kept))
    made.trim_blocks = made.lstrip_blocks = True  # the theme's templates are half white
    return made


def policy(config: MkDocsConfig) -> str:
    """The policy of the pages, with the hash of each script that the theme writes into them."""
    env = config.theme.get_env()
    values: dict[str, Any] = {
        "config": config,
        "base_url": ".",
        "features": config.theme.get("features") or [],
    }
    wanted = {
        "palette": not isinstance(config.theme.get("palette"), dict),
        "announce": "announce.dismiss" in values["features"],
        "consent": bool(config.extra.get("consent")),
        "outdated": bool(config.extra.get("version")),
    }
    texts = [
        env.get_template(f"partials/javascripts/{name}.html").render(values)
        for name in _EARLY
        if wanted.get(name, True)
    ]
    return policy_for(script for text in texts for script in scripts_in(text))


def script(config: MkDocsConfig) -> str:
    """The theme's own script, which has a hash in its name."""
    return _one(config, "assets/javascripts", "bundle.*.min.js")[0]


def is_whole(config: MkDocsConfig) -> bool:
    """Whether a setting brings parts of the theme into every page that ours are without."""
    asked = [config.theme.get("features"), *map(config.extra.get, ("version", "consent", "social"))]
    return any(asked)


def choose(files: Files, config: MkDocsConfig, last: str = "") -> None:
    """Take out of a site's files what of the theme no page uses, and put the sheets together.

    Args:
        files: Those of the site.
        config: The binder's settings.
        last: A sheet that goes before all others.
    """
    for file in list(files):
        name = file.src_uri
        unused = name == _FAVICON and config.theme.get("favicon") != _FAVICON
        if name.startswith(_LEFT_OUT) or name.endswith(_MAP) or unused:
            files.remove(file)
    _join_sheets(files, config, last)


def _join_sheets(files: Files, config: MkDocsConfig, last: str) -> None:
    folder = Path(config.theme.custom_dir) / "assets/css"
    for sheet in (folder / stylesheet.ENTRY, folder / _MARKDOWN, *stylesheet.sheets(folder)):
        files.remove(files.src_uris[f"assets/css/{sheet.name}"])
    main = _one(config, "assets/stylesheets", "main.*.min.css")[1].read_text("utf-8")
    palette = _one(config, "assets/stylesheets", "palette.*.min.css")[1].read_text("utf-8")
    named = _colours(config)
    colours = theme_sheets.colours(palette, named) if named else ""
    whole = {
        stylesheet.ENTRY: theme_sheets.core(main) + colours + stylesheet.joined(folder) + last,
        _MARKDOWN: theme_sheets.rest(main)
        + theme_sheets.colours(palette, set())
        + (folder / _MARKDOWN).read_text("utf-8"),
    }
    for name, content in whole.items():
        files.append(File.generated(config, f"assets/css/{name}", content=content))


def _colours(config: MkDocsConfig) -> set[str]:
    """The theme's own colours that the palette names."""
    palette = config.theme.get("palette") or []
    options = [palette] if isinstance(palette, dict) else palette
    named = {str(option.get(kind, OURS)) for option in options for kind in ("primary", "accent")}
    return {name.replace(" ", "-") for name in named - {OURS}}


def _one(config: MkDocsConfig, folder: str, name: str) -> tuple[str, Path]:
    """A file of the theme with a hash in its name: its address in the site, and where it lies."""
    [found] = [
        path for each in config.theme.dirs for path in sorted((Path(each) / folder).glob(name))
    ]
    return f"{folder}/{found.name}", found
