"""The page Print and the undated sheet that it leads to."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

from pypdf import PdfReader

from builder.make.clips import Facts
from builder.model.plan import Plan
from builder.site.assemble import _sheet
from builder.site.editions import editions
from builder.site.pages import SHEET_FILE, pages
from builder.workspace.store import Store
from tests.make.sheet_cases import CODE, PAIRS, WORDS, contrast, plan_of
from tests.site.test_pages import Reader
from tests.support import plans


def page(plan: Plan, path: str = "print") -> str:
    facts: defaultdict[str, Facts] = defaultdict(lambda: plans.FACTS)
    return next(p.html for p in pages(plan, facts) if p.path == path)


def apart() -> Plan:
    """Practiced on some days at home, on others at school, on Wednesday in both places."""
    return replace(
        plan_of(WORDS[:2]),
        helper="home",
        other_helpers=("school",),
        days=("mon", "tue", "wed"),
        by_role=(("home", ("tue", "wed")), ("school", ("mon", "wed"))),
    )


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


def test_days_that_differ_by_who_listens_stand_under_their_place() -> None:
    when = " ".join(Reader(page(apart(), "")).text.split())
    assert "At home: Tuesday · Wednesday At school: Monday · Wednesday" in when
    table = " ".join(Reader(page(apart())).text.split())
    assert "MondayAt school TuesdayAt home WednesdayAt homeAt school" in table
    assert "At school" not in page(replace(apart(), by_role=()))


def test_times_that_differ_by_who_listens_stand_under_their_place() -> None:
    plan = replace(
        apart(),
        times=("midday", "evening"),
        times_by_role=(("home", ("evening",)), ("school", ("midday",))),
    )
    when = " ".join(Reader(page(plan, "")).text.split())
    assert "At home: Tuesday · WednesdayEvening At school: Monday · WednesdayMidday" in when
    html = page(plan)
    assert "DayMiddayAt schoolEveningAt home" in " ".join(Reader(html).text.split())
    cells = re.findall("<td>(.*?)</td>", html)  # Monday, Tuesday, Wednesday: midday, evening
    assert [bool(cell) for cell in cells] == [True, False, False, True, True, True]


def test_the_undated_sheet_is_then_one_for_each_place(tmp_path: Path) -> None:
    (one,) = editions(apart())
    read = PdfReader(_sheet(one, {}, Store(tmp_path), tmp_path))
    home, school = (read.pages[at].extract_text() for at in (0, len(read.pages) // 2))
    assert ("Practice at home" in home, "Practice at school" in school) == (True, True)
    assert [[day in text for day in ("Mon", "Tue", "Wed")] for text in (home, school)] == [
        [False, True, True],
        [True, False, True],
    ]
