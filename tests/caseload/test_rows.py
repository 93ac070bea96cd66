"""A client's line: practice, visits and what waits, from facts alone."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from builder.caseload.lines import HEADINGS, cells
from builder.caseload.rows import (
    HARD,
    MOST_DAYS,
    READY,
    chosen,
    due_until,
    friday_of,
    row_of,
    rows,
)
from builder.make.sheet.week import MOST_WEEKS
from builder.model.pause import Pause
from builder.practice.figures.intervals import Rate
from builder.practice.figures.practiced import Days
from builder.practice.figures.proposal.move import Move, Proposal
from tests.support.caseload import TODAY, client, december


def test_days_of_practice_of_the_last_two_weeks() -> None:
    row = row_of(client(), TODAY)
    assert dict(zip(HEADINGS, cells(row, TODAY), strict=True))["practiced"] == "6 of 10 days"
    assert not row.waits
    assert (row.since, row.last, row.next) == (
        datetime.date(2026, 11, 26),
        datetime.date(2026, 11, 26),
        datetime.date(2026, 12, 16),
    )


def test_a_step_without_a_baseline_is_practiced_since_its_first_sheet() -> None:
    """The sheet of now may be its second or third one."""
    first, today = datetime.date(2026, 12, 1), TODAY + datetime.timedelta(1)
    sheets: dict[str, Any] = {"baselines": frozenset(), "start": TODAY}
    assert row_of(client(**sheets, since=first), TODAY).since == first
    assert row_of(client(**sheets), TODAY).since == TODAY
    assert row_of(client(**sheets | {"start": today}), TODAY).since is None


@pytest.mark.parametrize(
    ("told", "practiced"),
    [
        # A visit wrote a new first day; practice before it was by the former sheet.
        ({"start": datetime.date(2026, 12, 7)}, Days(6, 9, 0)),
        ({"start": datetime.date(2026, 12, 7), "practiced": december(8)}, Days(1, 5, 0)),
        ({"start": datetime.date(2026, 12, 17)}, Days(6, 9, 0)),
        (
            {"practiced": december(5, 7, 14)},
            Days(2, 11, 1),
        ),  # a Saturday; today, since something came of it
        ({"visit": datetime.date(2026, 12, 9)}, Days(5, 7, 1)),  # up to the day before it
        ({"pauses": (Pause(*(datetime.date(2026, 12, d) for d in (1, 4))),)}, Days(3, 6, 3)),
    ],
)
def test_only_planned_days_are_counted(told: dict[str, Any], practiced: Days) -> None:
    assert row_of(client(**told), TODAY).practiced == practiced


@pytest.mark.parametrize(
    ("told", "waits"),
    [
        ({"blanks": 2}, "2 fill-ins"),
        ({"trouble": "It is no YAML."}, "cannot be read"),
        ({"visit": datetime.date(2026, 12, 11)}, "visit past: Dec 11"),
        ({"visit": None}, "no visit"),
        ({"sheet": "sheet to check"}, "sheet to check"),
        ({"practiced": frozenset()}, "record missing"),
        ({"bare": ("cow",)}, "1 picture missing"),
        ({"unspoken": 3}, "3 recordings missing"),
    ],
)
def test_each_thing_that_waits(told: dict[str, Any], waits: str) -> None:
    assert row_of(client(**told), TODAY).waits == (waits,)


@pytest.mark.parametrize("sheet", ["no sheet", "sheet to check", "sheet to print"])
def test_after_the_visit_there_is_no_sheet_to_wait_for(sheet: str) -> None:
    over = client(visit=datetime.date(2026, 12, 11), sheet=sheet)
    assert row_of(over, TODAY).waits == ("visit past: Dec 11",)
    assert row_of(client(sheet=sheet), TODAY).waits == (sheet,)
    to_build = client(visit=datetime.date(2025, 12, 11), sheet="site to build")
    assert row_of(to_build, TODAY).waits == ("visit past: Dec 11, 2025", "site to build")


@pytest.mark.parametrize(
    ("practiced", "shown"),
    [
        ((7, 8), "2 of 10 days"),
        ((7, 12, 13), "1 of 10 days + 2"),
        ((), "-"),
    ],
)
def test_practice_in_a_few_words(practiced: tuple[int, ...], shown: str) -> None:
    line = cells(row_of(client(practiced=december(*practiced)), TODAY), TODAY)
    assert dict(zip(HEADINGS, line, strict=True))["practiced"] == shown


def test_practice_that_nobody_planned() -> None:
    away = Pause(datetime.date(2026, 11, 1), datetime.date(2026, 12, 31))
    line = cells(row_of(client(pauses=(away,), practiced=december(7)), TODAY), TODAY)
    assert dict(zip(HEADINGS, line, strict=True))["practiced"] == "1 day, none planned"


def test_the_boxes_of_a_sheet_run_out() -> None:
    assert MOST_DAYS == 7 * MOST_WEEKS
    later, begun = datetime.date(2027, 1, 4), datetime.date(2026, 6, 18)  # 26 weeks: December 17
    assert row_of(client(start=begun, visit=later), TODAY).waits == ("dates run out",)
    assert row_of(client(start=begun), TODAY).waits == ()


def test_no_record_is_not_no_practice() -> None:
    row = row_of(client(practiced=frozenset(), asked=False), TODAY)
    assert row.practiced is None
    assert not row.waits


def test_a_past_visit_is_neither_next_nor_last() -> None:
    row = row_of(client(visit=datetime.date(2026, 12, 11)), TODAY)
    assert row.next is None
    assert row.last == datetime.date(2026, 11, 26)


def test_a_score_in_the_log_tells_of_a_later_visit() -> None:
    scored = datetime.date(2026, 12, 9)
    assert row_of(client(scored=scored), TODAY).last == scored
    assert row_of(client(scored=datetime.date(2026, 11, 2)), TODAY).last == client().written.seen


def test_sorted_by_visit_and_chosen() -> None:
    late = client("wren-10", visit=datetime.date(2026, 12, 21), sounds=("s", "k"))
    past, none = client("lark-10", visit=datetime.date(2026, 12, 1)), client("crow-10", visit=None)
    found = rows([late, none, client(), past], TODAY)
    assert [row.code for row in found] == ["lark-10", "finch-10", "wren-10", "crow-10"]

    def codes(**by: Any) -> list[str]:
        return [row.code for row in chosen(found, TODAY, **by)]

    assert codes(due=2) == ["finch-10"]
    assert codes(due=7) == ["finch-10", "wren-10"]
    assert codes(due=1) == []
    assert codes(sound="s") == ["wren-10"]
    assert codes(waits=True) == ["lark-10", "crow-10"]
    assert codes(due=7, sound="s", waits=True) == []


@pytest.mark.parametrize(
    ("day", "friday"),
    [(14, 18), (18, 18), (19, 25), (20, 25)],  # Monday, Friday, the weekend
)
def test_until_friday(day: int, friday: int) -> None:
    found = friday_of(datetime.date(2026, 12, day))
    assert (found, found.isoweekday()) == (datetime.date(2026, 12, friday), 5)


def test_due_is_who_comes_or_begins() -> None:
    def day(number: int) -> datetime.date:
        return datetime.date(2026, 12, number)

    comes, begins = (
        client("wren-10", visit=day(18)),
        client("lark-10", start=day(14), visit=day(30)),
    )
    others = [client("crow-10", visit=day(19)), client("owl-10", visit=day(13)), client(visit=None)]
    found = due_until(rows([comes, begins, *others], TODAY), TODAY, day(18))
    assert [row.code for row in found] == ["wren-10", "lark-10"]


def proposal(move: Move, **more: Any) -> Proposal:
    return Proposal("k-words", move, f"A sentence of {move}.", **more)


@pytest.mark.parametrize(
    ("proposals", "shown"),
    [
        ((), "-"),
        ((proposal("too little"),), "-"),
        ((proposal("back"),), "back"),
        ((proposal("stay", ready=True),), "ready"),
        ((proposal("on", schedule="weekly"),), "weekly"),
        ((proposal("stay", schedule="monthly"),), "stay"),
        ((proposal("on"), proposal("stay"), proposal("on")), "on, stay"),
    ],
)
def test_a_proposal_in_a_word(proposals: tuple[Proposal, ...], shown: str) -> None:
    line = cells(row_of(client(proposals=proposals), TODAY), TODAY)
    assert dict(zip(HEADINGS, line, strict=True))["proposal"] == shown


def test_what_is_ready_waits_to_be_shown() -> None:
    ready = client(proposals=(proposal("stay", ready=True),))
    assert row_of(ready, TODAY).waits == (READY,)
    assert row_of(client(proposals=(proposal("on"),)), TODAY).waits == ()


@pytest.mark.parametrize(
    ("told", "waits"),
    [
        ({"hard": december(8, 9)}, (HARD,)),
        ({"hard": december(9)}, ()),
        ({"hard": december(8, 9), "sessions": december(8)}, ()),  # she knows of one of them
        ({"hard": december(8, 9), "sessions": december(7)}, (HARD,)),
        ({"proposals": (Proposal("k-words", "too little", "", hard=Rate(3, 10)),)}, (HARD,)),
    ],
)
def test_what_is_hard_at_home_waits_for_a_talk(
    told: dict[str, Any], waits: tuple[str, ...]
) -> None:
    assert row_of(client(**told), TODAY).waits == waits
