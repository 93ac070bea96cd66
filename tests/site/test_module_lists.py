"""Modules of the player are asked for at once: both lists hold what is imported, and no more."""

from __future__ import annotations

import re
from pathlib import Path

from tests.support.modules import MODULES, imported
from tests.support.places import ROOT

THEME = ROOT / "site_templates" / "theme"
NAME = re.compile(r'"([\w-]+)"')


def listed(file: Path, opening: str) -> list[set[str]]:
    """The names in each list that opens so."""
    lists = re.findall(re.escape(opening) + r"[(\[](.*?)[)\]]", file.read_text("utf-8"), re.DOTALL)
    return [set(NAME.findall(names)) for names in lists]


def test_the_page_asks_for_all_that_its_player_imports() -> None:
    rounds, visit = listed(THEME / "main.html", "{% for name in ")[:2]
    assert rounds == imported("practice-rounds")
    assert visit == imported("practice-visit")


def test_what_leads_through_practice_comes_in_one_round_trip() -> None:
    (lead,) = listed(MODULES / "practice-rounds.js", "const LEAD = ")
    assert lead == imported("lead") - imported("practice-rounds")
