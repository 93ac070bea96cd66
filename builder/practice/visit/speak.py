"""What is known before a visit, and what its figures speak for, in plain sentences. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from builder.model.program import LEVELS, Program, Step, Support
from builder.practice.figures.listeners import named
from builder.practice.figures.proposal.counting import WITH_A_MODEL, Schedule, counts_for
from builder.practice.figures.proposal.move import Move
from builder.practice.figures.tries import Slips
from builder.practice.log.scores import VisitScore
from builder.practice.visit.told import StepTold, Told
from builder.text.several import several

MOST_WORDS = 5  # that fail, of a step; more are no longer read
HOW: dict[Support | None, str] = {
    "imitation": "after a model",
    "delayed": "after a model and a pause",
    "spontaneous": "without a model",
    None: "on paper",
}
WRITTEN: dict[Schedule, str] = {
    "weekly": "once a week is one day in `practice:`, as in `days: [sat]`",
    "monthly": "once a month is one day in `practice:` and a `pause:` between, as in `days: [sat]` "
    "and `pause: 2027-01-10..2027-02-05`",
}
SPOKE_FOR: dict[Move, str] = {
    "on": "speak for moving on",
    "stay": "speak for staying",
    "back": "speak for stepping back",
    "too little": "are too few to say",
}
READY = "speak for your hearing it first"  # in the place of staying


def known(one: Told) -> Iterator[str]:
    """What home did since the last visit, and how each step went."""
    since = f" since {one.since}" if one.since else ""
    if one.dose.tries or one.days.practiced or one.days.besides:
        until = f"; the last record came on {one.came}" if one.came else ""
        yield f"at home{since} {one.days}; {one.dose}{_own(one)}{until}"
    else:
        yield f"nothing from home in the log{since}"
    for why, number in one.apart:
        yield f"kept apart by `receive`, counted nowhere: {several(number, 'sitting')}: {why}"
    if one.together:
        yield str(one.together)
    if one.slips:
        yield slips_told(one.slips)
    if one.hard:
        days = ", ".join(map(str, one.hard))
        yield f"ended as too hard, so that the family was asked to tell you: {days}"
    for step in one.steps:
        yield from (f"'{step.name}': {line}" for line in _of_step(step))


def _own(one: Told) -> str:
    """How many of the tries are of this program's sound, where there are others."""
    sound, tries = one.own
    others = (one.together and one.together.sounds > 1) or tries < one.dose.tries
    return f"; /{sound}/ alone {several(tries, 'try', 'tries')}" if others else ""


def slips_told(slips: Collection[Slips]) -> str:
    """As in "slips in texts and talks, on a tablet: 1 on 2026-12-08; on paper: 3 on 2026-12-09"."""
    listed = {
        where: ", ".join(f"{one.number} on {one.day}" for one in slips if one.source == source)
        for source, where in (("tablet", "on a tablet"), ("paper", "on paper"))
    }
    each = "; ".join(f"{where}: {found}" for where, found in listed.items() if found)
    return f"slips in texts and talks, {each}"


def _of_step(step: StepTold) -> Iterator[str]:
    if step.rates:
        yield "clear " + ", ".join(f"{rate} {HOW[support]}" for support, rate in step.rates)
    for support, rates in step.apart:
        each = ", ".join(f"{named([role])} {rate}" for role, rate in rates)
        yield f"of these {HOW[support]}: {each}"
    if step.failing:
        words = [f"{word} {rate.clear} of {rate.tries}" for word, rate in step.failing[:MOST_WORDS]]
        more = len(step.failing) - MOST_WORDS
        told = "; ".join(words) + (f"; and {more} more" if more > 0 else "")
        yield f"clear in less than half of the tries: {told}"
    if step.pairs:
        pairs = [f"{' or '.join(one.words)} {one.kept}" for one in step.pairs[:MOST_WORDS]]
        yield f"heard as chosen (by chance: half): {', '.join(pairs)}"
    if step.proposal and step.proposal.hard:
        yield (
            f"hard at home: {step.proposal.hard} clear on the last two days of practice, where "
            "pages and sheet say to stop and call you; a reason to talk, no proposal"
        )
    for found in step.beside:
        yield f"{found} ({HOW[found.score.support]}, {found.score.date})"


def proposals(one: Told, with_score: bool = False) -> Iterator[str]:
    """The sentence of each step; with_score: it takes in the score of this visit."""
    with_it = ", with this score" if with_score else ""
    for step in one.steps:
        if step.proposal:
            yield f"'{step.name}'{with_it}: {step.proposal.sentence}"


def further(program: Program, one: Told) -> Iterator[str]:
    """Where no round of a step is without a model, so that no try of it counts, how one is written;
    after the last step how a thinner schedule is, or a further step drafted."""
    for step, known in zip(program.current_steps, one.steps, strict=True):
        if known.proposal and known.rates and _all_with_a_model(step):
            yield (
                f"'{step.name}': all of its rounds have a model; `natural spontaneous` in "
                "`rounds:` adds one without"
            )
        if not known.proposal or not known.proposal.schedule:
            continue
        yield f"'{step.name}': {WRITTEN[known.proposal.schedule]}"
        at = LEVELS.index(program.steps[-1].level)
        if at < LEVELS.index("sentence"):
            after = LEVELS[max(at + 1, LEVELS.index("phrase"))]
            command = f"practice-site extend {program.written.client} --to {after}"
            yield f"'{step.name}': or `{command}` drafts a further step"


def _all_with_a_model(step: Step) -> bool:
    spoken = [one for one in step.rounds if not one.contrast]
    counted = any(counts_for(step.level, one.support) for one in spoken)
    return bool(spoken) and not counted


def uncounted(program: Program, scores: Iterable[VisitScore]) -> Iterator[str]:
    """Scores that no proposal takes for its step; that of a step which is only tried is its
    baseline all the same."""
    levels = {step.id: step.level for step in program.current_steps}
    for one in scores:
        level = levels.get(one.step)
        if level and level not in WITH_A_MODEL and not counts_for(level, one.support):
            yield (
                f"{one.step}: said after a model, this score speaks neither for nor against moving "
                "on. Add `--no-model` if it was said without one."
            )


def against(before: Program, after: Program, one: Told) -> Iterator[str]:
    """One sentence where the step that comes goes against what the figures speak for."""
    if before.current == after.current:
        return
    names = " and ".join(f"'{step.name}'" for step in after.current_steps)
    on, back = after.current[0] > max(before.current), after.current[0] < min(before.current)
    contrary = ("stay", "back", "too little") if on else ("on",) if back else ()
    found = [
        (step.name, READY if step.proposal.ready else SPOKE_FOR[step.proposal.move])
        for step in one.steps
        if step.proposal and step.proposal.move in contrary
    ]
    if found:
        what = "moves on" if on else "goes back"
        figures = " and ".join(
            f"those of '{name}' {spoke_for}" for name, spoke_for in found
        ).removeprefix("those ")
        yield f"This {what} to {names}, though the figures {figures}. You decide."
