"""The proposal of a caseload is that of a visit, though it reads the last days alone."""

from __future__ import annotations

import datetime
import random
from pathlib import Path
from typing import Any, Literal

from builder.model.clinic import Time
from builder.model.criteria import Criteria
from builder.model.program import Role
from builder.model.record import Sitting
from builder.practice.figures.client_log import client_log
from builder.practice.figures.proposal.counting import FRESH_DAYS, Asked
from builder.practice.figures.proposal.move import Proposal, propose
from builder.practice.log.file import connected
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import opened
from builder.practice.log.scores import VisitScore
from builder.practice.visit.lately import late_days
from builder.practice.visit.proposed import LOOKED_BACK, _tries, proposals
from builder.workspace.folder import Workspace
from tests.support.from_home import CODE, OTHER_SITE, SITE, VIEW, as_written, trials

TODAY = datetime.date(2026, 12, 21)
CRITERIA = Criteria.model_validate({})
ASKED = (
    Asked("k-words", "word", CRITERIA),
    Asked("k-with-a-vowel", "syllable", CRITERIA, last=True, schedule="weekly"),
    Asked("k-a-text", "reading", CRITERIA, last=True, schedule="monthly"),
)


LOGS = 12  # at random, each from its own number


def ago(days: int) -> datetime.date:
    return TODAY - datetime.timedelta(days=days)


def sitting(number: int, day: datetime.date, said: list[dict[str, Any]], **more: Any) -> Sitting:
    start = f"{day}T08:15:04-06:00"
    ids = {"id": f"{number:032x}", "start": start, "trials": said, "tallies": []}
    return Sitting.model_validate(as_written(1, **ids | more))


def any_log(folder: Path, seed: int) -> Workspace:
    """Sittings, boxes of paper and scores of up to half a year, of one client and of another."""
    of, space = random.Random(seed), Workspace(folder)
    best = of.choice([0.3, 0.45, 0.9, 1.0, 1.0])
    with opened(space.hidden, lambda _: False) as log, log.writing():
        for site in (SITE, OTHER_SITE):
            log.add_client(site, CODE if site == SITE else "wren-01")
        late = [0, 1, 2, 3, 4][: of.randint(0, 5)]
        back = sorted(late + of.sample(range(5, 180), of.choice([0, 2, 5, 12])))
        for number, days in enumerate(back):
            said = [
                trials(1, step=of.choice(["k-words", "k-words", "k-with-a-vowel"]), item="key")[0]
                | {
                    "support": of.choice(["imitation", "spontaneous", "spontaneous"]),
                    "mark": "clear" if of.random() < best else of.choice(["missed", "not_tried"]),
                }
                | of.choice([{}, {}, {}, {"repeat": True}, {"round": "natural-contrast"}])
                for _ in range(of.choice([4, 12, 24]))
            ]
            tally = {"step": "k-a-text", "targets": 10, "slipped": of.choice([None, 0, 6]), "ms": 1}
            more = {"tallies": [tally] if of.random() < 0.3 else [], "site": SITE}
            more |= {"helper": of.choice(["home", "school"])}
            log.put(sitting(number, ago(days), said, **more), str(TODAY))
            log.put(sitting(1000 + number, ago(days), said, site=OTHER_SITE), str(TODAY))
            step = of.choice(["", "k-with-a-vowel"])
            time: Time = of.choice(["morning", "evening"])
            role: Role | Literal[""] = of.choice(["", "home", "school"])
            day = ago(days + of.randint(0, 1))
            box = PaperCount(SITE, day, time, VIEW.digest, step, 7, 8, role)
            log.put_paper(box, str(TODAY))
        for days in of.sample(range(45), of.randint(0, 3)):
            step = of.choice(["k-words", "k-with-a-vowel"])
            correct = of.choice([9, 17, 19] if best < 0.8 else [9, 17, 17, 19, 19])
            log.put_score(VisitScore(SITE, ago(days), "K", step, "spontaneous", correct, 20), "")
    return space


def test_it_is_the_proposal_of_the_whole_log(tmp_path: Path) -> None:
    every: list[Proposal] = []
    for seed in range(LOGS):
        (tmp_path / str(seed)).mkdir()
        space = any_log(tmp_path / str(seed), seed)
        whole = client_log(space, SITE)
        wanted = tuple(propose(one, whole.tries, whole.scores, TODAY) for one in ASKED)
        with connected(space.hidden, lambda _: False) as sql:
            found = proposals(sql, {CODE: ASKED, "lark-99": ASKED}, TODAY)
        assert found == {CODE: wanted}, seed
        every += wanted
    assert {one.move for one in every} == {"on", "stay", "back", "too little"}
    assert {one.schedule for one in every} == {"", "monthly"}


def test_no_more_is_read_than_is_needed(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    with opened(space.hidden, lambda _: False) as log, log.writing():
        log.add_client(SITE, CODE)
        for days in range(100):
            said = [one | {"support": "spontaneous"} for one in trials(10, mark="clear")]
            log.put(sitting(days, ago(days), said), str(TODAY))
    read: list[str] = []
    with connected(space.hidden, lambda _: False) as sql:
        sql.set_trace_callback(read.append)
        newest = late_days(sql, SITE, TODAY - LOOKED_BACK, TODAY)
        assert [next(newest)[0] for _ in range(3)] == [ago(0), ago(1), ago(2)]
    assert sum("FROM trial" in one for one in read) == 3


def test_a_step_said_after_a_model_alone_is_read_for_two_weeks_and_no_more(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    with opened(space.hidden, lambda _: False) as log, log.writing():
        log.add_client(SITE, CODE)
        for days in range(100):
            log.put(sitting(days, ago(days), trials(10, mark="clear")), str(TODAY))
    with connected(space.hidden, lambda _: False) as sql:
        read: list[str] = []
        sql.set_trace_callback(read.append)
        assert {one.day for one in _tries(sql, SITE, ASKED[:1], TODAY)} == {
            ago(days) for days in range(FRESH_DAYS + 1)
        }
    assert sum("FROM trial" in one for one in read) == FRESH_DAYS + 1
