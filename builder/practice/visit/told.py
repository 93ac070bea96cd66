"""What the log has to say of a program before a visit: practice, clear-rates, words that fail, home
beside the therapist's own score, and what the figures speak for. Pure."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from builder.model.pause import Pause
from builder.model.program import Program, Step, Support
from builder.practice.figures import pairs
from builder.practice.figures.beside import Beside, beside_each
from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.intervals import Rate
from builder.practice.figures.planned import Timetable, planned_by_log
from builder.practice.figures.practiced import Days, Dose, days_practiced, dose
from builder.practice.figures.proposal.move import Proposal, propose
from builder.practice.figures.rates import (
    Together,
    by_role,
    by_step,
    failing,
    together,
    tries_of_sound,
)
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Slips, Tries, day_of, slips_of
from builder.practice.log.scores import VisitScore
from builder.practice.visit.asked import asked_of

A_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True)
class StepTold:
    """Of a step practiced now, since the last visit: clear-rates by support, and of each who
    listened where several did; words that fail; each who listened beside her last score of it; the
    proposal."""

    name: str
    rates: tuple[tuple[Support | None, Rate], ...]
    apart: tuple[tuple[Support | None, tuple[tuple[str, Rate], ...]], ...]
    failing: tuple[tuple[str, Rate], ...]
    beside: tuple[Beside, ...]
    pairs: tuple[pairs.Told, ...]
    proposal: Proposal | None


@dataclass(frozen=True)
class Told:
    """Of a program, its days and its dose of the whole client, since a sitting is of all sounds.
    since: the last visit that is known, None without one. apart: how many sittings of the client
    count nowhere, and why, in a clause. slips: of texts and talks, in no rate. came: the day
    of the last record, None without one, or where it came today. own: the sound, IPA, and how many
    of the tries are surely of it. together: what paper counted of several sounds or steps at once.
    hard: days on which a sitting ended as too hard.
    """

    since: datetime.date | None
    days: Days
    dose: Dose
    steps: tuple[StepTold, ...]
    apart: tuple[tuple[str, int], ...]
    slips: tuple[Slips, ...] = ()
    came: datetime.date | None = None
    own: tuple[str, int] = ("", 0)
    together: Together | None = None
    hard: tuple[datetime.date, ...] = ()


def told(program: Program, log: ClientLog, days: Timetable, today: datetime.date) -> Told:
    """What the log says up to `today`. days: of the client, since a sitting is of all sounds."""
    since = _last_visit(program, log, today)
    first = since + A_DAY if since else datetime.date.min
    late = log.between(first, today)
    proposals = proposals_of(program, log, days.pauses, today)
    steps = (
        _step(step, one, log, late)
        for step, one in zip(program.current_steps, proposals, strict=True)
    )
    return Told(
        since,
        days_practiced(late.sittings, late.papers, planned_by_log(days, log, first, today)),
        dose(late.counts, late.sittings, late.papers),
        tuple(steps),
        tuple(Counter(one.why for one in log.apart).items()),
        slips_of(late.sittings, late.papers),
        log.came if log.came and log.came < today else None,
        (program.sound.ipa, tries_of_sound(late.counts, program.sound.symbol, log.view)),
        together(late.counts, log.view),
        tuple(sorted({day_of(one) for one in late.sittings if one.end == "hard"})),
    )


def _last_visit(program: Program, log: ClientLog, today: datetime.date) -> datetime.date | None:
    """The last day before this one on which something was heard or noted in the room."""
    baseline = program.written.baseline
    known = [one.date for one in log.visit_scores]
    known += [one.date for one in log.visit_notes]
    known += [baseline.date] if baseline else []
    return max((day for day in known if day < today), default=None)


def proposals_of(
    program: Program, log: ClientLog, pauses: Collection[Pause], today: datetime.date
) -> tuple[Proposal | None, ...]:
    """For each step practiced now what the figures speak for; None for one that has pairs alone.
    pauses: the clinic's and the client's."""
    return tuple(
        None if step.only_pairs else propose(one, log.tries, log.scores, today)
        for step, one in zip(program.current_steps, asked_of(program, pauses), strict=True)
    )


def _step(step: Step, proposal: Proposal | None, log: ClientLog, late: ClientLog) -> StepTold:
    tries = tuple(one for one in late.tries if one.step == step.id)
    texts = {item.id: item.text for item in step.said}
    words = ((texts.get(word, word), rate) for _, word, rate in failing(tries))
    last = _last_scores(step.id, log.scores)
    return StepTold(
        step.name,
        tuple((support, rate) for (_, support), rate in by_step(tries).items()),
        tuple(_apart(tries)),
        tuple(words),
        tuple(one for score in last for one in beside_each(log.tries, score)),
        tuple(one for one in pairs.pairs_told(late.sittings, late.view) if one.step == step.id),
        proposal,
    )


def _apart(
    tries: Sequence[Tries],
) -> Iterator[tuple[Support | None, tuple[tuple[str, Rate], ...]]]:
    """With each support the rates of all who listened, where they are several."""
    for support in dict.fromkeys(one.support for one in tries):
        rates = by_role(one for one in tries if one.support == support)
        if len(rates) > 1:
            yield support, tuple((role, rate) for (role, _), rate in rates.items())


def _last_scores(step: str, scores: Iterable[Score]) -> list[Score]:
    """Those of the last session in which the step was scored; a probe stands beside nothing."""
    own = [one for one in scores if one.step == step and not one.probe]
    return [one for one in own if one.date == own[-1].date]


def with_heard(log: ClientLog, scores: Iterable[VisitScore]) -> ClientLog:
    """The same with scores that are not in the log yet; the same kind of one day stands once."""
    new = {one.kind: one for one in (*log.visit_scores, *scores)}
    return replace(log, visit_scores=tuple(sorted(new.values(), key=lambda one: one.date)))
