"""Where site_templates/ lies: inside the installed package, or beside it in a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment


def folder() -> Path:
    """The folder with pages, theme, sheets and wording."""
    inside = Path(__file__).parents[1] / "site_templates"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "site_templates"


@cache
def environment(part: str) -> Environment:
    """The templates of one folder of it, as in "pages": escaped, and a missing name is an error."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(folder() / part),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
