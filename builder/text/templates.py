"""Where site_templates/ lies: inside the installed package, or beside it in a checkout."""

from __future__ import annotations

import base64
import hashlib
import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


def folder() -> Path:
    """The folder with pages, theme, sheets and wording."""
    inside = Path(__file__).parents[1] / "site_templates"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "site_templates"


@cache
def environment(part: str) -> Environment:
    """The templates of one folder of it, as in "pages": escaped, and a missing name is an error."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(folder() / part),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["marked_up"] = marked_up
    return made


def policy_digest(script: str) -> str:
    """As a policy names a script: https://www.w3.org/TR/CSP3/#framework-directive-source-list."""
    digest = hashlib.sha256(script.encode()).digest()
    return f"sha256-{base64.b64encode(digest).decode()}"


def marked_up(sentence: str) -> Markup:
    """A message as HTML: what stands in backticks becomes code, all else is escaped. An option
    stays on one line: broken at its hyphens it would be typed wrong."""
    from markupsafe import Markup, escape

    parts = (escape(part) for part in re.split(r"`([^`]+)`", sentence))
    return Markup("").join(_code(part) if at % 2 else part for at, part in enumerate(parts))


def _code(escaped: Markup) -> Markup:
    from markupsafe import Markup

    whole = re.sub(r"(?<!\S)--?[a-z][a-z-]*", r'<span class="option">\g<0></span>', str(escaped))
    return Markup(f"<code>{whole}</code>")  # escaped before
