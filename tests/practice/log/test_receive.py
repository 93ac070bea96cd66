"""Records from home are a stranger's: what may be believed, what is kept apart, and that nothing is
counted twice."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from builder.model.record import Sitting, union
from builder.practice.log.receive import Received, receive
from builder.practice.log.rows import Log, opened
from builder.practice.log.understand import Known
from tests.benchmarks.log_kills import KNOWN as ANY_PLAN
from tests.support.from_home import CODE, EXAMPLE, OTHER_SITE, SITE, VIEW, sitting, trials

KNOWN = Known(
    {SITE: CODE, OTHER_SITE: "wren-01"},
    lambda site, plan: VIEW if (site, plan) == (SITE, VIEW.digest) else None,
    datetime.date(2026, 12, 4),
)


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    with opened(tmp_path, lambda _: False) as log:
        yield log


def became(came: tuple[Received, ...]) -> list[str]:
    return [one.became for one in came]


def test_twice_is_once(log: Log) -> None:
    week = [sitting(1), sitting(2)]
    assert became(receive(log, week, KNOWN)) == ["new", "new"]
    assert became(receive(log, [*week, *week], KNOWN)) == ["known", "known"]
    assert log.sittings() == tuple(week)


def test_what_is_there_already_is_not_kept_apart_where_its_plan_is_lost(log: Log) -> None:
    receive(log, [sitting(1)], KNOWN)
    assert became(receive(log, [sitting(1)], replace(KNOWN, view=lambda *_: None))) == ["known"]
    assert log.apart() == ()


def test_a_record_that_brings_nothing_new_tells_of_the_days_until_now(log: Log) -> None:
    receive(log, [sitting(1)], KNOWN)
    later = replace(KNOWN, today=datetime.date(2026, 12, 9))
    assert became(receive(log, [sitting(1)], later)) == ["known"]
    assert log.came(SITE) == later.today
    assert log.came(OTHER_SITE) is None


def test_a_later_copy_takes_the_place_of_an_earlier_one_and_never_the_other_way(log: Log) -> None:
    early, late = sitting(1, trials=trials(3)), sitting(1, trials=trials(9))
    assert became(receive(log, [early], KNOWN)) == ["new"]
    assert became(receive(log, [late], KNOWN)) == ["newer"]
    assert became(receive(log, [early], KNOWN)) == ["known"]
    assert log.sittings() == (late,)


def test_two_tablets_are_one_client_in_any_order(log: Log) -> None:
    one = [sitting(1), sitting(3, trials=trials(2))]
    other = [sitting(2, helper="school"), sitting(3, trials=trials(5))]
    receive(log, other, KNOWN)
    receive(log, one, KNOWN)
    assert log.sittings() == union([*one, *other])


def forged(**changes: Any) -> Sitting:
    return sitting(1, **changes)


def with_trial(**changes: Any) -> Sitting:
    return forged(trials=[EXAMPLE["trials"][0] | changes])


def with_tally(**changes: Any) -> Sitting:
    return forged(tallies=[EXAMPLE["tallies"][0] | changes])


@pytest.mark.parametrize(
    ("one", "why"),
    [
        pytest.param(forged(site="1" * 13), "no client of this practice folder", id="nobody's"),
        pytest.param(forged(plan="ab" * 16), "its plan is not kept", id="unknown plan"),
        pytest.param(forged(site=OTHER_SITE), "its plan is not", id="another client's plan"),
        pytest.param(forged(start="2026-12-06T08:15:04-06:00"), "still to come", id="tomorrow's"),
        pytest.param(forged(start="9999-12-31T23:59:59-14:00"), "still to come", id="the last day"),
        pytest.param(forged(start="1970-01-01T00:00:00+00:00"), "before any site", id="1970"),
        pytest.param(forged(start="0001-01-01T00:00:00+14:00"), "before any site", id="year 1"),
        pytest.param(with_trial(step="s-words"), "the step `s-words`", id="no such step"),
        pytest.param(with_trial(item="sun"), "`sun` in the step `k-words`", id="no such word"),
        pytest.param(with_trial(chosen="tea", heard="key"), "`tea` in the step", id="no such pair"),
        pytest.param(with_trial(round="9-long"), "the round `9-long`", id="no such round"),
        pytest.param(with_trial(ms=2**70), "more than a day after", id="an endless try"),
        pytest.param(with_tally(ms=2**70), "more than a day after", id="an endless text"),
        pytest.param(with_tally(step="k-words"), "a text in the step", id="a text of a list"),
        pytest.param(with_tally(step="s-text"), "the step `s-text`", id="no such text"),
        pytest.param(
            with_tally(targets=2**60, slipped=0), "more than 10,000", id="an endless count"
        ),
        pytest.param(with_tally(words=2**70), "more than 10,000", id="endless words"),
    ],
)
def test_what_cannot_be_is_kept_apart_and_counts_nowhere(log: Log, one: Sitting, why: str) -> None:
    (came,) = receive(log, [one], KNOWN)
    assert came.became == "apart"
    assert why in came.why
    assert log.sittings() == ()
    assert [(kept.sitting, kept.why) for kept in log.apart()] == [(one, came.why)]
    receive(log, [one], KNOWN)
    assert len(log.apart()) == 1


@pytest.mark.parametrize(
    "changes",
    [{"site": OTHER_SITE}, {"start": "2026-12-01T08:15:05-06:00"}],
    ids=["another client's", "another beginning"],
)
def test_no_record_takes_the_place_of_another_sitting(log: Log, changes: dict[str, Any]) -> None:
    known = replace(ANY_PLAN, codes=KNOWN.codes)
    own = sitting(1, trials=trials(1))
    receive(log, [own], known)
    (came,) = receive(log, [sitting(1, trials=trials(9), **changes)], known)
    assert (came.became, "already" in came.why) == ("apart", True)
    assert log.sittings() == (own,)


def test_what_is_kept_apart_is_taken_in_once_its_plan_is_known(log: Log) -> None:
    receive(log, [sitting(1)], replace(KNOWN, view=lambda site, plan: None))
    (now, before) = receive(log, [sitting(2)], KNOWN)
    assert (now.sitting, now.again) == (sitting(2), False)
    assert (before.sitting, before.became, before.again) == (sitting(1), "new", True)
    assert log.apart() == ()
    assert log.sittings() == (sitting(1), sitting(2))


def test_a_sitting_of_today_in_any_zone_is_no_sitting_to_come(log: Log) -> None:
    late = sitting(1, start="2026-12-05T11:00:00+14:00")
    assert became(receive(log, [late], KNOWN)) == ["new"]


def test_a_clock_that_was_set_back_loses_nothing(log: Log) -> None:
    """The second sitting begins, by the tablet, before the first one and before its plan was
    published; the third goes on at the right time."""
    came = [
        sitting(3),
        sitting(2, start="2026-02-01T08:15:04-06:00"),
        sitting(1, start="2026-12-03T18:15:04-06:00"),
    ]
    for one in came:
        assert became(receive(log, [one], KNOWN)) == ["new"]
    assert log.sittings() == (came[1], came[0], came[2])
    assert became(receive(log, came, KNOWN)) == ["known"] * 3


def test_the_same_sitting_with_other_marks_is_not_counted_twice(log: Log) -> None:
    own = sitting(1, trials=trials(5))
    forged = sitting(1, trials=trials(5, mark="missed"))
    more = sitting(1, trials=trials(6, mark="missed"))
    for one in (own, forged, more, own):
        receive(log, [one], KNOWN)
    assert log.sittings() == (more,)
    assert became(receive(log, [own, more, forged], KNOWN)) == ["known"]
