"""All that the log, and what is kept beside it, knows of one client, as one frozen object
that every figure is made of."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace
from functools import cache, cached_property
from pathlib import Path

from builder.model.program import Role
from builder.model.record import Sitting
from builder.practice import kept_views
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries, View, day_of, tries_of, tries_on_paper
from builder.practice.former_sheets import FormerSheet, former_sheets
from builder.practice.log.counts import Counted, counted
from builder.practice.log.file import FILE
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import Apart, Log, opened
from builder.practice.log.scores import VisitNote, VisitScore
from builder.workspace.folder import HIDDEN_FOLDER, Workspace


@dataclass(frozen=True)
class FamilyNote:
    """What a family wrote beside a sitting."""

    day: datetime.date
    helper: Role
    text: str


@dataclass(frozen=True)
class ClientLog:
    """A client's records, each list in the order of time. visit_scores: the therapist's own, with
    their remarks; visit_notes: what she wrote of visits without one. apart: sittings that count
    nowhere. view: the kept plan of a site, by digest. came: the day on which the last record came,
    from a tablet or paper; None without one. over: sheets of before."""

    site: str
    sittings: tuple[Sitting, ...]
    papers: tuple[PaperCount, ...]
    visit_scores: tuple[VisitScore, ...]
    visit_notes: tuple[VisitNote, ...]
    apart: tuple[Apart, ...]
    view: View
    came: datetime.date | None = None
    over: frozenset[FormerSheet] = frozenset()

    @cached_property
    def counts(self) -> tuple[Counted, ...]:
        """Tries of a step in a sitting, of tablets and paper, each sitting once."""
        return counted(self.sittings, self.papers)

    @cached_property
    def tries(self) -> tuple[Tries, ...]:
        """Every try that counts, those of paper last."""
        return (*tries_of(self.sittings, self.view), *tries_on_paper(self.counts, self.view))

    @cached_property
    def scores(self) -> tuple[Score, ...]:
        """The therapist's own scores, as figures take them."""
        return tuple(map(as_score, self.visit_scores))

    @property
    def notes(self) -> tuple[FamilyNote, ...]:
        """What the family wrote."""
        return tuple(
            FamilyNote(day_of(one), one.helper, one.note) for one in self.sittings if one.note
        )

    def between(self, first: datetime.date, last: datetime.date) -> ClientLog:
        """The same with the records of these days alone, both included."""
        return replace(
            self,
            sittings=tuple(one for one in self.sittings if first <= day_of(one) <= last),
            papers=tuple(one for one in self.papers if first <= one.day <= last),
            visit_scores=tuple(one for one in self.visit_scores if first <= one.date <= last),
            visit_notes=tuple(one for one in self.visit_notes if first <= one.date <= last),
        )


def as_score(one: VisitScore) -> Score:
    """A score of the log as figures take it."""
    return Score(one.date, one.step, one.support, one.correct, one.of, one.probe)


def client_log(workspace: Workspace, site: str) -> ClientLog:
    """What is known of the client with this site; nothing where there is no log yet. Raises
    UsageError as `connected`."""
    view: View = cache(lambda site, digest: kept_views.find(workspace, site, digest))
    if not Path(workspace.root, HIDDEN_FOLDER, FILE).is_file():
        return ClientLog(site, (), (), (), (), (), view)
    with opened(workspace.hidden) as log:
        return replace(read(log, site, view), over=former_sheets(workspace, site))


def read(log: Log, site: str, view: View) -> ClientLog:
    """The same from a log that is open."""
    return ClientLog(
        site,
        log.sittings(site),
        log.papers(site),
        log.scores(site),
        log.visit_notes(site),
        log.apart(site),
        view,
        log.came(site),
    )
