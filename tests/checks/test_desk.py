from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from builder.checks.desk import check_animal, check_boxes, check_visit_to_come
from tests.support.clients import NOTHING, client_of
from tests.support.day import TODAY

DAY = datetime.date(2026, 12, 14)
LADDER = "current: words\nsteps:\n  - {name: words, level: word, items: [key]}\n"


@pytest.mark.parametrize(
    ("today", "told"),
    [(DAY, False), (DAY + datetime.timedelta(days=1), True), (None, False)],
    ids=["on the day of the visit", "a day later", "no day matters"],
)
def test_a_visit_is_past_from_the_next_day_on(today: datetime.date | None, told: bool) -> None:
    client = client_of("sound: k\npractice: {from: 2026-12-07, visit: 2026-12-14}\n" + LADDER)
    found = list(check_visit_to_come(client, replace(NOTHING, today=today)))
    assert [f.rule for f in found] == (["visit-past"] if told else [])


@pytest.mark.parametrize(
    ("practice", "told"),
    [
        ("{from: 2026-12-07, visit: 2026-12-14}", False),
        ("{from: 2026-12-07, visit: 2027-06-07}", False),
        ("{from: 2026-12-07, visit: 2027-06-08}", True),
        ("{visit: 2027-06-04}", False),
        ("{visit: 2027-06-05}", True),
        ("{from: 2026-12-07}", False),
        ("{}", False),
    ],
    ids=["a week", "26 weeks", "a day more", "from now on", "a day more from now on", "", "none"],
)
def test_boxes_reach_the_visit(practice: str, told: bool) -> None:
    client = client_of(f"sound: k\npractice: {practice}\n" + LADDER)
    found = list(check_boxes(client, replace(NOTHING, today=TODAY)))
    assert [one.rule for one in found] == (["boxes"] if told else [])


def test_who_practises_alone_and_reads_sees_no_animal() -> None:
    survey = replace(NOTHING, undrawn=True, alike=("finch-11",))
    alone = client_of("sound: k\nage: 30\nreads: yes\nhelper: self\n" + LADDER)
    assert list(check_animal(alone, survey)) == []
    assert [f.rule for f in check_animal(client_of("sound: k\n" + LADDER), survey)] == [
        "same-animal"
    ]
