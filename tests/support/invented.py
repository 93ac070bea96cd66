"""Invented clients with weeks of records, for tests and for looking at what is made of them: the
programs as they stand now, their plans of earlier weeks, sittings, counts on paper, scores, notes.

Words, codes and figures are our own. How often a try is clear is drawn, from a seed, with a chance
that grows from week to week.
"""

from __future__ import annotations

import datetime
import hashlib
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import cycle, islice
from pathlib import Path
from typing import Any

from builder.model.clinic import Clinic
from builder.model.fill_sitting import filled
from builder.model.practice_view import ItemView, PracticeView, ProgramView, RoundView, StepView
from builder.model.program import Client, Program, Step
from builder.model.record import Sitting
from builder.practice import kept_views
from builder.practice.figures.client_log import ClientLog
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import opened
from builder.practice.log.scores import VisitNote, VisitScore
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace
from tests.support.clients import CLINIC

SITE = "7k2mz9qd4wthc"
TODAY = datetime.date(2026, 12, 14)
TRIES = 24  # of a sitting


@dataclass(frozen=True)
class Weeks:
    """Weeks with the same plan. current: names of steps; clear: chance of a clear try, after a
    model and without, in the first week; better: what each week adds; often: chance that a planned
    sitting takes place."""

    monday: datetime.date
    number: int
    current: tuple[str, ...]
    clear: tuple[float, float]
    better: float = 0.0
    often: float = 0.9


@dataclass(frozen=True, eq=False)
class Invented:
    """A client. programs: texts by file name; scores: (day, name of the step, without a model,
    correct, of, note)."""

    code: str
    programs: dict[str, str]
    weeks: tuple[Weeks, ...]
    scores: tuple[tuple[datetime.date, str, bool, int, int, str], ...] = ()
    notes: dict[datetime.date, str] = field(default_factory=dict)
    hers: dict[datetime.date, str] = field(default_factory=dict)
    papers: tuple[tuple[datetime.date, int, int], ...] = ()
    hard: tuple[str, ...] = ()
    clinic: Clinic = CLINIC

    @property
    def client(self) -> Client:
        """As its programs stand now."""
        texts = self.programs.items()
        programs = (program_in(parse(text.encode(), name), self.clinic) for name, text in texts)
        return filled(Client(self.code, tuple(programs), self.clinic, "."))

    def log(self, site: str = SITE) -> ClientLog:
        """Everything as the log would hold it."""
        client, views = self.client, dict[str, PracticeView]()
        chance, sittings = random.Random(self.code), list[Sitting]()
        for some in self.weeks:
            view = view_of_steps(client, some.current)
            views[view.digest] = view
            sittings += _sittings(self, client, some, view, site, chance, len(sittings))
        steps = {s.name: (s, p) for p in client.programs for s in p.steps}
        scores = []
        for day, name, alone, correct, of, note in self.scores:
            step, program = steps[name]
            support: Any = "spontaneous" if alone else "imitation"
            sound = (step.sound or program.sound).symbol
            scores.append(VisitScore(site, day, sound, step.id, support, correct, of, note=note))
        plan = next(iter(views))
        papers = [
            PaperCount(site, day, "evening", plan, _only(views[plan]), clear, tries)
            for day, clear, tries in self.papers
        ]
        return ClientLog(
            site,
            tuple(sorted(sittings, key=lambda one: one.started)),
            tuple(papers),
            tuple(scores),
            tuple(VisitNote(site, day, text) for day, text in self.hers.items()),
            (),
            lambda _site, digest: views.get(digest),
        )

    def write(self, space: Path) -> str:
        """The programs, the plans and the log of a practice folder; the client's site."""
        for name, text in self.programs.items():
            (space / "programs" / name).write_text(text, "utf-8")
        workspace = Workspace(space)
        site = slug(secret(workspace), self.code)
        held = self.log(site)
        with opened(workspace.hidden) as log, log.writing():
            log.add_client(site, self.code)
            for sitting in held.sittings:
                log.put(sitting, "2026-12-14")
            for paper in held.papers:
                log.put_paper(paper, "2026-12-14")
            for score in held.visit_scores:
                log.put_score(score, "2026-12-14")
            for note in held.visit_notes:
                log.put_visit_note(note, "2026-12-14")
        plans = [*(one.plan for one in held.sittings), *(one.plan for one in held.papers)]
        for digest in dict.fromkeys(plans):
            view = held.view(site, digest)
            assert view
            kept_views.keep(workspace, site, view)
        return site


def view_of_steps(client: Client, current: tuple[str, ...]) -> PracticeView:
    """The practice view of a client while these steps, by name, are practiced; no clips."""
    programs = []
    for program in client.programs:
        at = [n for n, step in enumerate(program.steps) if step.name in current]
        if at:
            steps = (_step(s, s.name in current) for s in program.steps[: max(at) + 1])
            programs.append(_program(program, tuple(steps)))
    return PracticeView("en-US", tuple(programs))


def _program(program: Program, steps: tuple[StepView, ...]) -> ProgramView:
    advance, back = program.written.criteria.advance, program.written.criteria.step_back
    return ProgramView(
        program.sound.symbol,
        program.written.misses,
        (advance.percent, advance.days),
        (back.percent, back.days),
        steps,
    )


def _step(step: Step, current: bool) -> StepView:
    rounds = tuple(
        RoundView(f"{n}-{r.form}-{r.support}", r.form, r.support, r.times, r.contrast)
        for n, r in enumerate(step.rounds, 1)
    )
    items = tuple(ItemView(item.id, item.text, ("", "")) for item in step.said)
    pairs = tuple((pair.target.id, pair.other.id) for pair in step.pairs)
    return StepView(step.id, step.level, current, rounds, items, pairs)


def _only(view: PracticeView) -> str:
    (step,) = [step.id for program in view.programs for step in program.steps if step.current]
    return step


def _sittings(
    who: Invented,
    client: Client,
    some: Weeks,
    view: PracticeView,
    site: str,
    chance: random.Random,
    number: int,
) -> Iterator[Sitting]:
    sessions = {day for day, *_ in who.scores} | set(who.hers)
    for week in range(some.number):
        for weekday in range(5):
            day = some.monday + datetime.timedelta(days=7 * week + weekday)
            if day in sessions or day >= TODAY:
                continue
            for hour, time in ((8, "morning"), (18, "evening")):
                if chance.random() > some.often:
                    continue
                number += 1
                yield Sitting.model_validate(
                    {
                        "record": 1,
                        "id": hashlib.md5(f"{who.code} {number}".encode()).hexdigest(),
                        "site": site,
                        "plan": view.digest,
                        "start": f"{day}T{hour:02}:05:00-06:00",
                        "time": time,
                        "helper": client.programs[0].written.helper[0],
                        "trials": _trials(who, some, view, week, chance),
                        "note": who.notes.get(day, "") if time == "morning" else "",
                        "done": TRIES,
                        "end": "done",
                    }
                )


def _trials(
    who: Invented, some: Weeks, view: PracticeView, week: int, chance: random.Random
) -> list[dict[str, Any]]:
    current = [s for p in view.programs for s in p.steps if s.current]
    made: list[dict[str, Any]] = []
    for step in current:
        rounds = [r for r in step.rounds if not r.contrast]
        each = TRIES // len(current) // len(rounds)
        for planned in rounds:
            likely = some.clear[planned.support == "spontaneous"] + some.better * week
            for item in islice(cycle(step.items), each):
                own = likely * (0.35 if item.text in who.hard else 1.0)
                drawn = chance.random()
                mark = "clear" if drawn < own else "almost" if drawn < own + 0.08 else "missed"
                made.append(
                    {
                        "step": step.id,
                        "round": planned.id,
                        "item": item.id,
                        "form": planned.form,
                        "support": planned.support,
                        "mark": mark,
                        "ms": 9000 * (len(made) + 1),
                    }
                )
    return made


def day(month: int, number: int) -> datetime.date:
    """A day of 2026."""
    return datetime.date(2026, month, number)


HERON = Invented(
    "heron-07",
    {
        "heron-07.yaml": """\
program: 1
client: heron-07
age: 4
reads: no
sound: k
error: t
position: initial
current: two words
practice: {days: [mon, tue, wed, thu, fri], from: 2026-12-15, visit: 2026-12-21}
words: [key, cow, cup, comb, coin, corn, candle, camel]
steps:
  - {name: with a vowel, level: syllable, vowels: [ee, ah, oo, ay]}
  - {name: words, level: word, rounds: [natural imitation, {support: spontaneous, show: picture}]}
  - {name: two words, level: phrase, items: [my key, my cow, my cup, a comb, a coin, some corn]}
"""
    },
    (
        Weeks(day(11, 9), 2, ("with a vowel",), (0.75, 0.75), 0.12),
        Weeks(day(11, 23), 3, ("words",), (0.72, 0.55), 0.13, 0.8),
    ),
    (
        (day(11, 9), "with a vowel", False, 14, 20, ""),
        (day(11, 23), "with a vowel", False, 19, 20, ""),
        (day(11, 30), "words", True, 10, 20, "quick to tire"),
        (day(12, 14), "words", True, 17, 20, ""),
        (day(12, 14), "two words", False, 8, 10, ""),
    ),
    {
        day(11, 12): "went well, wanted to go on",
        day(12, 2): "Tired after school. Anna helped.",
        day(12, 8): "comb is still hard",
    },
    {day(12, 7): "came with a cold, no score"},
    hard=("comb", "candle"),
)

OTTER = Invented(
    "otter-12",
    {
        "otter-12.yaml": """\
program: 1
client: otter-12
age: 7
reads: yes
sound: s
error: frontal
position: [medial, final]
mastered: {isolation: 2026-08-14, syllable: 2026-09-18}
current: words
practice: {minutes: 10, days: [mon, tue, wed, thu, fri], from: 2026-12-15, visit: 2026-12-21}
words:
  medial: [dinosaur, bicycle, fossil, messy, lesson, icy]
  final: [bus, house, mouse, goose, ice, dress]
steps:
  - {name: words, level: word, rounds: [natural imitation, natural spontaneous]}
  - name: two words
    level: phrase
    position: final
    rounds: [natural imitation, natural spontaneous]
    items: [a yellow bus, my house, a tiny mouse, one goose, cold ice, a red dress]
""",
        "otter-12-sh.yaml": """\
program: 1
client: otter-12
age: 7
reads: yes
sound: sh
error: s
position: initial
mastered: {isolation: 2026-08-14, syllable: 2026-09-18}
current: words with sh
criteria: {advance: {percent: 90, days: 2}}
practice: {minutes: 10, days: [mon, tue, wed, thu, fri], from: 2026-12-15, visit: 2026-12-21}
words: [ship, shell, sheep, shark, shoe, shirt, shovel]
steps:
  - {name: words with sh, level: word, rounds: [natural imitation, natural spontaneous]}
""",
    },
    (
        Weeks(day(10, 19), 4, ("words",), (0.78, 0.66), 0.07, 0.8),
        Weeks(day(11, 16), 2, ("two words", "words with sh"), (0.5, 0.36), 0.0, 0.8),
        Weeks(day(11, 30), 2, ("words", "words with sh"), (0.86, 0.8), 0.05, 0.7),
    ),
    (
        (day(11, 2), "words", True, 12, 20, ""),
        (day(11, 16), "words", True, 16, 20, ""),
        (day(11, 30), "two words", True, 7, 20, ""),
        (day(12, 14), "words", True, 13, 20, ""),
        (day(12, 14), "words with sh", True, 19, 20, ""),
    ),
    {day(11, 18): "Sentences are too hard for her, she got cross."},
    papers=((day(10, 20), 15, 20), (day(10, 22), 17, 20)),
    hard=("bicycle",),
)

BADGER = Invented(
    "badger-03",
    {
        "badger-03.yaml": """\
program: 1
client: badger-03
age: 31
reads: yes
helper: self
sound: r
position: initial
mastered: {isolation: 2026-09-02, syllable: 2026-09-23, word: 2026-10-28}
current: [two words, sentences]
practice: {times: [evening], days: [mon, wed, fri], from: 2026-12-07, visit: 2026-12-18}
words: [road, rain, ring, rope, rice, rabbit]
steps:
  - {name: words, level: word, rounds: [natural imitation, natural spontaneous]}
  - name: two words
    level: phrase
    rounds: [natural spontaneous]
    items: [a long road, warm rain, my ring, the rope, brown rice, a rabbit]
  - name: sentences
    level: sentence
    rounds: [natural imitation, natural spontaneous]
    items: [The road is wet., We need rain., My ring is lost., Hold the rope., I cook rice.]
"""
    },
    (Weeks(day(11, 16), 4, ("two words", "sentences"), (0.8, 0.7), 0.05, 0.5),),
    notes={day(11, 25): "slow on the last three"},
)
EVERYONE = (HERON, OTTER, BADGER)
