"""Which modules of the published pages import which."""

from __future__ import annotations

import re

from tests.support.places import ROOT

MODULES = ROOT / "site_templates" / "theme" / "assets" / "js"
FROM = re.compile(r'^(?:import|export) .* from "\./([\w-]+)\.js";', re.MULTILINE)


def imported(name: str) -> set[str]:
    """A module, by its name without .js, and all that it imports, and what they import, at once."""
    found, left = set(), {name}
    while left:
        one = left.pop()
        found.add(one)
        left |= set(FROM.findall((MODULES / f"{one}.js").read_text("utf-8"))) - found
    return found
