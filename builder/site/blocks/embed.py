"""How values stand in a page: JSON in a script element, addresses seen from the page."""

from __future__ import annotations

import json
import posixpath
from urllib.parse import quote

from builder.model.clinic import Strict

# In a script element HTML looks only for "</script" and "<!--"; Markdown looks for backticks.
UNSAFE_IN_SCRIPT: dict[str, str | int | None] = {
    "<": "\\u003c",
    ">": "\\u003e",
    "&": "\\u0026",
    "`": "\\u0060",
    "\x7f": "\\u007f",
}


def script_json(data: Strict) -> str:
    """JSON for a script element of a Markdown file: ASCII, none of UNSAFE_IN_SCRIPT."""
    text = json.dumps(data.model_dump(mode="json"), ensure_ascii=True, separators=(",", ":"))
    return text.translate(str.maketrans(UNSAFE_IN_SCRIPT))


def relative_address(path: str, root: str) -> str:
    """A path of the site as a relative address, from a page whose way to the top is `root`."""
    return root + quote(posixpath.normpath(path) + ("/" if path.endswith("/") else ""), safe="/")
