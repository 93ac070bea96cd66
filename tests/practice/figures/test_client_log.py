"""One client's part of the log, as figures take it."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

from builder.practice import kept_views
from builder.practice.figures.client_log import FamilyNote, client_log
from builder.practice.figures.intervals import Rate
from builder.practice.figures.rates import by_step
from builder.practice.figures.score import Score
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import Apart, opened
from builder.practice.log.scores import VisitNote, VisitScore
from builder.workspace.folder import Workspace
from tests.support.from_home import CODE, OTHER_SITE, SITE, VIEW, sitting, trials


def day(number: int) -> datetime.date:
    return datetime.date(2026, 12, number)


SCORE = VisitScore(SITE, day(3), "K", "k-words", "imitation", 17, 20, note="calm")
NOTE = VisitNote(SITE, day(3), "tired")
ON_PAPER = PaperCount(SITE, day(2), "evening", VIEW.digest, "k-words", 3, 4)


def filled(folder: Path) -> Workspace:
    """A log with the records of two clients."""
    space = Workspace(folder)
    kept_views.keep(space, SITE, VIEW)
    with opened(space.hidden, lambda _: False) as log, log.writing():
        for site in (SITE, OTHER_SITE):
            log.add_client(site, CODE if site == SITE else "wren-01")
            for number in (1, 2):
                id_ = f"{number if site == SITE else number + 8:032x}"
                note = "a good day" if number == 1 else ""
                made = sitting(number, site=site, id=id_, trials=trials(5), tallies=[], note=note)
                log.put(made, "2026-12-04")
            log.put_paper(replace(ON_PAPER, site=site), "2026-12-04")
            log.put_score(replace(SCORE, site=site), "2026-12-04")
            log.put_visit_note(replace(NOTE, site=site), "2026-12-04")
            log.put_apart(Apart(sitting(3, site=site), "no plan"), "2026-12-04")
    return space


def test_it_is_one_clients_alone(tmp_path: Path) -> None:
    found = client_log(filled(tmp_path), SITE)
    assert [one.site for one in found.sittings] == [SITE] * 2
    assert [one.site for one in found.papers] == [SITE]
    assert (found.visit_scores, found.visit_notes) == ((SCORE,), (NOTE,))
    assert found.scores == (Score(day(3), "k-words", "imitation", 17, 20),)
    assert len(found.apart) == 1
    assert found.notes == (FamilyNote(day(1), "home", "a good day"),)
    assert sum(one.tries for one in found.counts) == 14
    assert by_step(found.tries)["k-words", None] == Rate(3, 4)
    assert sum(one.tries for one in found.tries) == 14
    assert {one.level for one in found.tries} == {"word"}


def test_some_days_of_it(tmp_path: Path) -> None:
    found = client_log(filled(tmp_path), SITE)
    second = found.between(day(2), day(2))
    assert [len(of) for of in (second.sittings, second.papers)] == [1, 1]
    assert (second.visit_scores, second.visit_notes, second.notes) == ((), (), ())
    assert sum(one.tries for one in second.tries) == 9
    assert found.between(day(1), day(3)) == found


def test_without_a_log_there_is_nothing_and_none_is_made(tmp_path: Path) -> None:
    found = client_log(Workspace(tmp_path), SITE)
    assert (found.sittings, found.tries, found.scores) == ((), (), ())
    assert list(tmp_path.iterdir()) == []
