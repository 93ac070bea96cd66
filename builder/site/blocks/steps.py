"""One step as it is practiced: rounds over items or pairs, or a text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace

from builder.make.clips import Facts
from builder.model.clinic import Strict
from builder.model.plan import PlannedPassage, PlannedProgram, PlannedRound, PlannedStep
from builder.model.program import Form, Level, Show, Support
from builder.site.blocks.items import ItemData, item_data
from builder.site.voice_changes import voice_changes
from builder.text.talk import situation
from builder.text.wording import Wording


class RoundData(Strict):
    """One pass over the items, gone through `times` times; over the pairs when `contrast`, as an
    imitation over those that are imitated."""

    id: str
    form: Form
    support: Support
    show: Show
    times: int
    contrast: bool


class PassageData(Strict):
    """A text in paragraphs, each in parts, true where letters spell a target that counts; or the
    situation of a talk, with isolates around what is practiced. counts: the targets of each word,
    since letters of two may stand side by side; minutes: of one sitting."""

    paragraphs: tuple[tuple[tuple[str, bool], ...], ...]
    words: int
    targets: int
    counts: tuple[int, ...]
    situation: str
    minutes: int


class StepData(Strict):
    """One step that is practiced on the page.

    reminder, misses: of its program; misses in a row. easier: id of the step to go back to, "" for
    none. changes: whether the voice changes inside a round. judges: the client judges each try
    before the helper does. hears: the client may hear the own try after the model. pairs, imitated:
    to choose from; to hear and say, a word of each pair in turn. passage: past sentences, in place
    of rounds and items.
    """

    id: str
    name: str
    level: Level
    sound: str
    reminder: str
    misses: int
    easier: str
    changes: bool
    judges: bool
    hears: bool
    rounds: tuple[RoundData, ...]
    items: tuple[ItemData, ...]
    pairs: tuple[tuple[ItemData, ItemData], ...]
    imitated: tuple[tuple[ItemData, ItemData], ...]
    passage: PassageData | None


def step_data(
    program: PlannedProgram, step: PlannedStep, facts: Mapping[str, Facts], w: Wording, root: str
) -> StepData:
    """A step as a page at `root` needs it. Raises KeyError when a clip has no facts."""
    chosen = [pair for pair in step.pairs if pair not in step.imitated]
    return StepData(
        id=step.id,
        name=step.name,
        level=step.level,
        sound=step.sound,
        reminder=program.reminder,
        misses=program.misses,
        easier=step.easier,
        changes=bool(voice_changes(step, facts)),
        judges=step.judges,
        hears=step.hears,
        rounds=tuple(map(_round, step.rounds)),
        items=tuple(item_data(item, facts, root) for item in step.items),
        pairs=_pairs(step, chosen, facts, root),
        imitated=_pairs(step, step.imitated, facts, root),
        passage=_passage(step.passage, w),
    )


def _round(planned: PlannedRound) -> RoundData:
    return RoundData(
        id=planned.id,
        form=planned.form,
        support=planned.support,
        show=planned.show,
        times=planned.times,
        contrast=planned.contrast,
    )


def _pairs(
    step: PlannedStep,
    pairs: Sequence[tuple[str, str]],
    facts: Mapping[str, Facts],
    root: str,
) -> tuple[tuple[ItemData, ItemData], ...]:
    """The pairs of a contrast round, the word with the target first."""
    said = {item.id: item for item in step.said}
    clips = dict(zip(step.pairs, step.paired, strict=True)) if step.paired else {}

    def of(pair: tuple[str, str], at: int) -> ItemData:
        item = said[pair[at]]
        own = replace(item, natural=clips[pair][at]) if pair in clips else item
        return item_data(own, facts, root)

    return tuple((of(pair, 0), of(pair, 1)) for pair in pairs)


def _passage(passage: PlannedPassage | None, w: Wording) -> PassageData | None:
    if passage is None:
        return None
    data = asdict(passage)
    where, company = data.pop("where"), data.pop("company")
    told = situation(where, company, w).in_words(w) if where or company else ""
    return PassageData(**data, situation=told)
