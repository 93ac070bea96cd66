"""The page Print and the undated sheet that it leads to."""

from __future__ import annotations

from collections import defaultdict

from builder.make.clips import Facts
from builder.model.plan import Plan
from builder.site.pages import SHEET_FILE, pages
from tests.make.sheet_cases import CODE, PAIRS, WORDS, contrast, plan_of
from tests.site.test_pages import Reader
from tests.support import plans


def page(plan: Plan) -> str:
    facts: defaultdict[str, Facts] = defaultdict(lambda: plans.FACTS)
    return next(p.html for p in pages(plan, facts) if p.path == "print")


def test_pictures_code_rounds_and_the_whole_sheet() -> None:
    html = page(plan_of(WORDS[:8]))
    links = [a.get("href") for tag, a in Reader(html).tags if tag == "a"]
    assert f"../{SHEET_FILE}" in links
    shown = [a.get("src") for tag, a in Reader(html).tags if tag == "img"]
    assert f"../{CODE.path}.svg" in shown
    assert len([one for one in shown if one and "pictures/" in one]) == 1 + 5  # otter, five drawn
    assert "Say it without hearing it first." in html


def test_a_round_says_how_often() -> None:
    html = page(contrast())
    assert "(2 times through)" in html


def test_the_other_word_of_a_pair_stands_in_its_pair_only() -> None:
    text = " ".join(Reader(page(contrast())).text.split())
    for one, other in PAIRS:
        assert f"{one} or {other}" in text
        assert text.count(other) == 1
