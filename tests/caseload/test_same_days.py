"""One fact, one number: of the same span `caseload`, `visit` and `progress` tell the same days."""

from __future__ import annotations

import datetime
import random
import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any

from builder.caseload.facts import Facts, Written
from builder.caseload.rows import LOOKED_BACK, row_of
from builder.checks.pause import pauses_of
from builder.model.clinic import DAYS
from builder.model.program import Client
from builder.practice.figures.client_log import ClientLog, read
from builder.practice.figures.planned import planned_by_log, planned_days, timetable
from builder.practice.figures.practiced import Days
from builder.practice.former_sheets import FormerSheet
from builder.practice.log.file import connected
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import Log
from builder.practice.log.scores import VisitNote, VisitScore
from builder.practice.visit.days_lately import days_lately
from builder.practice.visit.told import told
from builder.progress.gather import progress_of
from tests.support.clients import client_of
from tests.support.from_home import VIEW, sitting, trials

TODAY = datetime.date(2026, 12, 14)
HISTORIES = 120
NO_TRIES: dict[str, Any] = {"trials": [], "tallies": []}


def ago(days: int) -> datetime.date:
    return TODAY - datetime.timedelta(days)


def code(site: str) -> str:
    """Of the client with this site."""
    return f"finch-{int(site):03}"


def any_client(of: random.Random) -> Client:
    """With a sheet that began long ago, lately or begins soon, or without a first day."""
    weekdays = of.sample(DAYS, of.choice([1, 3, 5, 7]))
    start = of.choice(["", *(f"from: {ago(n)}, " for n in (40, 12, 7, 5, 1, -1))])
    visit = of.choice(["", *(f"visit: {ago(n)}" for n in (3, 0, -7))])
    seen = ago(of.choice([60, 30, 20, 10, 6]))
    pause = f"pause: [{ago(9)}..{ago(8)}]\n" if of.random() < 0.3 else ""
    return client_of(
        f"sound: k\ncurrent: words\nbaseline: {{date: {seen}, correct: 18, of: 20}}\n"
        f"practice: {{days: [{', '.join(weekdays)}], {start}{visit}}}\n{pause}"
        "words: [key, cow]\nsteps:\n  - {name: words, level: word}\n"
    )


def fill(log: Log, site: str, of: random.Random, last: int | None) -> None:
    """Practice, boxes of paper and sessions; last: how many days ago the last session was."""
    log.add_client(site, code(site))
    practiced = of.sample(range(70), of.choice([0, 1, 5, 30]))
    for days in practiced:
        tried = {"trials": trials(2), "tallies": []} if of.random() < 0.8 else NO_TRIES
        start = f"{ago(days)}T08:15:04-06:00"
        id_ = f"{of.getrandbits(128):032x}"
        came = str(ago(of.randrange(days + 1)))
        log.put(sitting(1, id=id_, site=site, start=start, **tried), came)
        if of.random() < 0.2:
            box = PaperCount(site, ago(of.randrange(70)), "evening", VIEW.digest, "k-words", 0, 0)
            log.put_paper(box, str(min(TODAY, box.day + datetime.timedelta(of.randrange(9)))))
    sessions = [n for n in of.sample(range(70), of.choice([0, 1, 4])) if last is None or n > last]
    for days in [*sessions, *([] if last is None else [last])]:
        if of.random() < 0.5:
            log.put_visit_note(VisitNote(site, ago(days), "tired"), "")
        else:
            log.put_score(VisitScore(site, ago(days), "K", "k-words", "imitation", 1, 2), "")


def any_over(of: random.Random) -> frozenset[FormerSheet]:
    """Former sheets, some followed by another one, some by that of now."""
    ended = of.sample(range(2, 40), of.choice([0, 0, 1, 3]))
    return frozenset(FormerSheet(ago(n), of.choice([None, ago(of.randrange(n))])) for n in ended)


def in_caseload(
    sql: sqlite3.Connection, site: str, client: Client, over: frozenset[FormerSheet]
) -> Days | None:
    """As `caseload` tells it, which reads no more of the log than it needs."""
    days, since = timetable(client.programs, pauses_of(client)), ago(LOOKED_BACK)
    days = replace(days, over=over)
    found = days_lately(sql, {code(site): days, "lark-99": days}, since)
    facts = Facts(
        written=Written(code=code(site), days=days),
        practiced=found.practiced.get(code(site), frozenset()),
        sessions=found.sessions.get(code(site), frozenset()),
        came=found.came.get(code(site)),
    )
    planned = planned_days(days, facts.practiced, facts.sessions, since, TODAY, facts.came)
    whole = replace(read(Log(sql), site, lambda _site, _plan: VIEW), over=over)
    assert planned == planned_by_log(days, whole, since, TODAY)
    return row_of(facts, TODAY).practiced


def in_progress(client: Client, log: ClientLog, first: datetime.date) -> Days | None:
    """As `progress --since` tells it, in all and by week."""
    found = progress_of(client, log, TODAY, first)
    if found is None:
        return None
    whole, weeks = found.practice.days, [week.days for week in found.practice.weeks]
    assert whole.planned == sum(week.planned for week in weeks)
    assert whole.practiced == sum(week.practiced for week in weeks)
    return whole if whole.practiced or whole.besides else None


def test_the_same_span_has_the_same_number_in_every_command(tmp_path: Path) -> None:
    counted, all_three = 0, 0
    with connected(tmp_path, lambda _: False) as sql:
        log = Log(sql)
        for seed in range(HISTORIES):
            of, site = random.Random(seed), f"{seed:013}"
            client, last = any_client(of), of.choice([None, None, LOOKED_BACK + 1])
            with log.writing():
                fill(log, site, of, last)
            over = any_over(of)
            line = in_caseload(sql, site, client, over)
            whole = replace(read(log, site, lambda _site, _plan: VIEW), over=over)
            assert line == in_progress(client, whole, ago(LOOKED_BACK)), seed
            days = timetable(client.programs, pauses_of(client))
            at_visit = told(client.programs[0], whole, days, TODAY)
            assert at_visit.since
            there = in_progress(client, whole, at_visit.since + datetime.timedelta(1))
            assert at_visit.days == there or not there, seed
            counted += bool(line and line.practiced and line.besides)
            if line and at_visit.since == ago(LOOKED_BACK + 1):
                assert line == at_visit.days, seed
                all_three += 1
    assert counted > HISTORIES // 10
    assert all_three > HISTORIES // 20
