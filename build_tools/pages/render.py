"""Fills the page templates. Everything that a file says is escaped on its way in."""

from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader

from build_tools.pages.page_context import measure
from build_tools.setup.paths import ROOT
from calcs.engine.written_day import written_day

# Compiling the templates takes half a second of every build. Jinja sees by itself what is stale.
CACHE = ROOT / ".cache" / "templates"
TEMPLATES = Path(__file__).parent / "templates"


@lru_cache(maxsize=1)
def environment() -> Environment:
    """The templates in `templates/`."""
    CACHE.mkdir(parents=True, exist_ok=True)
    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        bytecode_cache=FileSystemBytecodeCache(str(CACHE)),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.policies["json.dumps_kwargs"] = {"sort_keys": True, "separators": (",", ":")}
    made.filters["day"] = lambda iso: written_day(date.fromisoformat(iso))
    made.filters["measure"] = measure
    return made


def render(kind: str, values: dict[str, Any]) -> str:
    """The page of one kind: `procedure`, `calculator`, `reference` or `home`."""
    template = environment().get_template(f"{kind}.html.jinja")
    lines = (line.rstrip() for line in template.render(values).splitlines())
    return "\n".join(line for line in lines if line) + "\n"
