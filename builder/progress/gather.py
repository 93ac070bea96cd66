"""A client's programs and log -> everything that stands on the page of progress. Pure: the day is
an argument."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass

from builder.checks.pause import pauses_of
from builder.model.criteria import Criteria, Criterion
from builder.model.pause import Pause
from builder.model.practice_view import PracticeView
from builder.model.program import Client, Item
from builder.practice.figures.beside import Beside, beside_each
from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.intervals import Rate, total
from builder.practice.figures.listeners import by_role, days_of, named
from builder.practice.figures.own_judgment import Judged, judged
from builder.practice.figures.pairs import Told, pairs_told
from builder.practice.figures.planned import planned_by_log, sessions_of, timetable
from builder.practice.figures.proposal.move import Proposal
from builder.practice.figures.rates import Thirds, Together, by_step, failing, thirds, together
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Slips, Tries, day_of, slips_of
from builder.practice.visit.told import proposals_of
from builder.progress import sentence
from builder.progress.notes import Note, notes_of
from builder.progress.series import HOWS, By, How, Line, by_for, how_of, lines_of
from builder.progress.steps import Group, KnownStep, groups
from builder.progress.stretches import Move, Stretch, lanes, moves, runs, stretches
from builder.progress.weeks import Practice, practice_of


@dataclass(frozen=True)
class Drawn:
    """A stretch of a step with its points."""

    step: KnownStep
    stretch: Stretch
    lines: tuple[Line, ...]


@dataclass(frozen=True, kw_only=True)
class Section:
    """One program.

    heading: sound and positions. lanes: what the chart shows, steps one after the other, those
    practiced at the same time below one another; weekly: the same by week. totals: the clear-rate
    of each step. words: those that fail, with their step's name. beside: her scores, each with the
    marks near it of each who listened. listeners: what each marked in all, by role. sentence: for
    her notes, "" where nothing speaks.
    """

    heading: str
    steps: tuple[KnownStep, ...]
    criteria: Criteria
    by: By
    lanes: tuple[tuple[Drawn, ...], ...]
    weekly: tuple[Drawn, ...]
    totals: tuple[tuple[KnownStep, How, Rate], ...]
    words: tuple[tuple[str, str, Rate], ...]
    pairs: tuple[Told, ...]
    thirds: Thirds | None
    beside: tuple[tuple[Score, tuple[Beside, ...]], ...]
    listeners: tuple[tuple[str, Rate], ...]
    moves: tuple[Move, ...]
    sentence: str
    proposals: tuple[tuple[str, Proposal], ...]
    judged: Judged

    @property
    def who(self) -> str:
        """Who listened at practice, as in "home" or "home and school"."""
        return named(role for role, _ in self.listeners)

    def step(self, id_: str) -> KnownStep:
        """The step with this id."""
        return next(one for one in self.steps if one.id == id_)


@dataclass(frozen=True, kw_only=True)
class Progress:
    """A client from `first` to `last`, both days included. together: what paper counted of several
    sounds or steps at once; slips: of texts and talks, in no rate; apart: sittings that count
    nowhere."""

    code: str
    first: datetime.date
    last: datetime.date
    practice: Practice
    sections: tuple[Section, ...]
    notes: tuple[Note, ...]
    together: Together | None
    slips: tuple[Slips, ...]
    apart: int


def progress_of(
    client: Client,
    log: ClientLog,
    today: datetime.date,
    since: datetime.date | None = None,
    has_picture: Callable[[Item], bool] = lambda _item: False,
) -> Progress | None:
    """Everything of a client from `since` on, else from the first record or day of practice; None
    where the log holds nothing of that time. has_picture: whether an item has one to show."""
    shown = log.between(since, datetime.date.max) if since else log
    days = [
        *(day_of(one) for one in shown.sittings),
        *(one.day for one in shown.papers),
        *sessions_of(shown),
    ]
    if not days:
        return None
    starts = (program.written.practice.start for program in client.programs)
    begun = min((day for day in starts if day and day <= today), default=today)
    first, last = since or min(*days, begun), max(*days, today)
    plan = timetable(client.programs, pauses_of(client))
    made = (
        _section(group, log, shown, today, since, plan.pauses)
        for group in groups(client, _views(log), has_picture)
        if group.steps
    )
    return Progress(
        code=client.code,
        first=first,
        last=last,
        practice=practice_of(shown, planned_by_log(plan, log, first, today), first, last),
        sections=tuple(one for one in made if one.lanes),
        notes=notes_of(shown),
        together=together(shown.counts, log.view),
        slips=slips_of(shown.sittings, shown.papers),
        apart=len(log.apart),
    )


def _views(log: ClientLog) -> Iterator[PracticeView]:
    """The plans that records name, in the order of time."""
    named = [(one.day, one.site, one.plan) for one in log.papers]
    named += [(day_of(one), one.site, one.plan) for one in log.sittings]
    for site, plan in dict.fromkeys((site, plan) for _, site, plan in sorted(named)):
        if view := log.view(site, plan):
            yield view


def _section(
    group: Group,
    log: ClientLog,
    shown: ClientLog,
    today: datetime.date,
    since: datetime.date | None,
    pauses: Collection[Pause],
) -> Section:
    """A section of what is `shown`; what was practiced before that says what was moved from, and
    speaks for a proposal."""
    steps = group.steps
    known = {step.id: step for step in steps}
    tries = [one for one in shown.tries if one.step in known]
    order = list(known)
    heard = (one for one in shown.scores if one.step in known)
    scores = sorted(heard, key=lambda one: (one.date, order.index(one.step), one.probe))
    criteria, by = _criteria(group, log), by_for(tries)
    every = runs(shown, tuple(known))
    practiced = stretches(every, [(one.step, one.date) for one in scores])
    now = tuple(step.id for step in group.program.current_steps) if group.program else ()
    whole = runs(log, tuple(known))
    moved = moves(whole, sessions_of(log), now, _written(group), today)
    told = sentence.of_session(scores, steps, moved, now, practiced=bool(whole))
    if not told and every:
        last = (known[step] for step in every[-1].steps)
        each = (sentence.of_home(step, tries, criteria.advance.days) for step in last)
        told = " ".join(filter(None, each))
    return Section(
        heading=_heading(group),
        steps=steps,
        criteria=criteria,
        by=by,
        lanes=tuple(
            tuple(Drawn(known[o.step], o, lines_of(o, tries, scores, by)) for o in lane)
            for lane in lanes(practiced)
        ),
        weekly=tuple(
            Drawn(known[o.step], o, lines_of(o, tries, scores, "week")) for o in practiced
        ),
        totals=tuple(_totals(tries, steps)),
        words=tuple(
            (known[step].name, known[step].texts.get(item, item), rate)
            for step, item, rate in failing(tries)
        ),
        pairs=tuple(one for one in pairs_told(shown.sittings, log.view) if one.step in known),
        thirds=thirds(tries),
        beside=tuple((one, beside_each(log.tries, one)) for one in scores),
        listeners=tuple(by_role(days_of(tries)).items()),
        moves=tuple(one for one in moved if since is None or one.day >= since),
        sentence=told,
        proposals=tuple(_proposals(group, log, pauses, today)),
        judged=judged(shown.sittings, known.keys()),
    )


def _proposals(
    group: Group, log: ClientLog, pauses: Collection[Pause], today: datetime.date
) -> Iterator[tuple[str, Proposal]]:
    if group.program:
        found = proposals_of(group.program, log, pauses, today)
        for step, one in zip(group.program.current_steps, found, strict=True):
            if one:
                yield step.name, one


def _heading(group: Group) -> str:
    places = " and ".join(group.program.written.position) if group.program else "no program now"
    return f"{group.sounds} {places}" if group.program else f"{group.sounds} ({places})"


def _criteria(group: Group, log: ClientLog) -> Criteria:
    """As the program has them; of one that is gone, as its last plan had them."""
    if group.program:
        return group.program.written.criteria
    ids = {step.id for step in group.steps}
    criteria = Criteria()
    for view in _views(log):
        for program in view.programs:
            if ids & {step.id for step in program.steps}:
                (percent, days), (low, often) = program.advance, program.step_back
                criteria = Criteria(
                    advance=Criterion(percent=percent, days=days),
                    step_back=Criterion(percent=low, days=often),
                )
    return criteria


def _written(group: Group) -> Iterator[datetime.date]:
    """Days of the program that may tell when its step was changed."""
    if group.program:
        written = group.program.written
        if written.baseline:
            yield written.baseline.date
        if written.practice.start:
            yield written.practice.start


def _totals(
    tries: Iterable[Tries], steps: Iterable[KnownStep]
) -> Iterator[tuple[KnownStep, How, Rate]]:
    """Home's clear-rates by step, in their order, and by how a try was made."""
    rates: dict[tuple[str, How], list[Rate]] = {}
    for (step, support), rate in by_step(tries).items():
        rates.setdefault((step, how_of(support)), []).append(rate)
    for one in steps:
        for how in HOWS:
            if (one.id, how) in rates:
                yield one, how, total(rates[one.id, how])
