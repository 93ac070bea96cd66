"""Counts on paper: what may be typed for a box, and that no sitting counts twice."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from builder.model.program import Role
from builder.practice.log.counts import Counted, counted
from builder.practice.log.paper import PaperCount, has_text, read_answer, read_box, step_told_of
from builder.practice.log.rows import opened
from tests.support.from_home import CODE, SITE, VIEW, sitting, trials

DAY = datetime.date(2026, 12, 1)
PAPER = PaperCount(SITE, DAY, "morning", VIEW.digest, "k-words", 17, 20)


@pytest.mark.parametrize("text", ["17 of 20", "17/20", "17 20", " 17 OF 20 ", "17of20"])
def test_a_count_is_read_as_people_type_it(text: str) -> None:
    assert read_answer(text) == (17, 20)


def test_a_box_may_be_only_ticked() -> None:
    assert read_answer("x") == read_answer("X") == (0, 0)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("17", "17 of 20"),
        ("seventeen of twenty", "17 of 20"),
        ("21 of 20", "21 right of 20 cannot be"),
        ("0 of 0", "1 to 500"),
        ("17 of 2000", "1 to 500"),
        ("-1 of 5", "17 of 20"),
        ("1720", "17 of 20"),
        ("１７ of 20", "17 of 20"),
    ],
)
def test_what_is_no_count_is_said(text: str, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        read_answer(text)


@pytest.mark.parametrize(
    ("text", "box"),
    [
        ("17 of 20", (17, 20, None)),
        ("17 of 20, 3 slips", (17, 20, 3)),
        ("17/20 1 Slip", (17, 20, 1)),
        ("0 slips", (0, 0, 0)),
        ("x, 4 slips", (0, 0, 4)),
        ("x", (0, 0, None)),
    ],
)
def test_slips_of_a_text_stand_behind_a_count_or_alone(
    text: str, box: tuple[int, int, int | None]
) -> None:
    assert read_box(text, has_text=True) == box


@pytest.mark.parametrize(
    ("text", "of_text", "message"),
    [
        ("3 slips", False, "No text or talk was practiced"),
        ("21 of 20, 3 slips", True, "cannot be"),
        ("many slips", True, "17 of 20"),
        ("3", True, "17 of 20"),
    ],
)
def test_slips_that_cannot_be_are_said(text: str, of_text: bool, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        read_box(text, of_text)


def test_slips_are_kept_and_have_no_rate(tmp_path: Path) -> None:
    assert has_text(VIEW)
    assert not has_text(None)
    slips = replace(PAPER, clear=0, tries=0, slips=3)
    with opened(tmp_path) as log:
        with log.writing():
            log.add_client(SITE, CODE)
            log.put_paper(slips, "2026-12-04")
        assert log.papers() == (slips,)
    assert counted((), (slips,)) == ()


def test_a_box_is_kept_once_and_can_be_taken_out(tmp_path: Path) -> None:
    other = replace(PAPER, time="evening", clear=0, tries=0)
    with opened(tmp_path) as log:
        with log.writing():
            log.add_client(SITE, CODE)
            for one in (other, replace(PAPER, clear=3), PAPER):
                log.put_paper(one, "2026-12-04")
        assert log.papers() == log.papers(SITE) == (PAPER, other)
        with log.writing():
            log.remove_paper(SITE, DAY, "morning")
        assert log.papers() == (other,)


def test_two_tablets_and_paper_are_one_client() -> None:
    """Of one morning both homes' tablets count; paper counts where no tablet was."""
    home = sitting(1, trials=trials(5), tallies=[])
    other = sitting(
        1, id="f" * 32, helper="other home", trials=trials(4, mark="missed"), tallies=[]
    )
    evening = replace(PAPER, time="evening")
    ticked = replace(PAPER, day=DAY + datetime.timedelta(days=1), clear=0, tries=0)
    found = counted([other, home], [PAPER, evening, ticked])
    assert [(one.time, one.source, one.helper, one.clear, one.tries) for one in found] == [
        ("morning", "tablet", "home", 5, 5),
        ("morning", "tablet", "other home", 0, 4),
        ("evening", "paper", "", 17, 20),
    ]
    assert found[2] == Counted(
        SITE, DAY, "evening", "paper", "", "", VIEW.digest, "k-words", 17, 20
    )


def test_a_count_tells_of_the_step_where_there_is_one() -> None:
    assert step_told_of(VIEW) == "k-words"
    (program,) = VIEW.programs
    twice = replace(program, steps=(*program.steps, replace(program.steps[0], id="k-more")))
    assert step_told_of(replace(VIEW, programs=(twice,))) == ""


def test_each_home_has_boxes_of_its_own(tmp_path: Path) -> None:
    home, school = replace(PAPER, helper="home"), replace(PAPER, helper="school", clear=9)
    with opened(tmp_path) as log:
        with log.writing():
            log.add_client(SITE, CODE)
            for one in (PAPER, home, school, replace(home, clear=12)):
                log.put_paper(one, "2026-12-04")
        assert log.papers() == (PAPER, replace(home, clear=12), school)
        with log.writing():
            log.remove_paper(SITE, DAY, "morning", "home")
        assert log.papers() == (PAPER, school)


@pytest.mark.parametrize(
    ("tablets", "papers", "expected"),
    [
        pytest.param(["home"], ["school"], ["home", "school"], id="two places, two sittings"),
        pytest.param(["home"], ["home"], ["home"], id="one place: the tablet's stands"),
        pytest.param([], ["home", "other home"], ["home", "other home"], id="two sheets"),
        pytest.param(["school"], [""], ["school"], id="nobody known yields to a tablet"),
        pytest.param([], ["", "school"], ["school"], id="and to a sheet with a name"),
        pytest.param([], [""], [""], id="nobody known, alone"),
    ],
)
def test_a_sitting_counts_once_for_each_place(
    tablets: list[Role], papers: list[Role], expected: list[str]
) -> None:
    marked = [
        sitting(1, id=f"{n}" * 32, helper=role, trials=trials(5), tallies=[])
        for n, role in enumerate(tablets)
    ]
    found = counted(marked, [replace(PAPER, helper=role) for role in papers])
    assert sorted(one.helper for one in found) == expected
