"""The data blocks of pages: what the modules there need, as one JSON value each.

site_templates/types.d.ts states the same shape; a test compares the two.
"""

from __future__ import annotations

import json
import posixpath
from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from typing import Literal
from urllib.parse import quote

from builder.make.clips import Facts
from builder.model.clinic import Day, Speaker, Strict, Time, Way
from builder.model.dose import HOLDS_IN_A_ROW
from builder.model.plan import (
    Clip,
    Picture,
    Plan,
    PlannedItem,
    PlannedPassage,
    PlannedProgram,
    PlannedRound,
    PlannedStep,
)
from builder.model.practice_view import view_of
from builder.model.program import Form, Level, Role, Show, Support
from builder.site.voice_changes import voice_changes
from builder.text.wording import Wording

SOFT_SOUNDS = ("F", "TH")  # softer than /s/ by 10 dB and more; common knowledge, no source
PAUSE_S = 3.0  # the quiet wait of a delayed round; common practice, no source


class ClipData(Strict):
    """One clip: its address relative to the page; the rest as clips.Facts has it."""

    src: str
    duration: float
    start: float | None
    end: float | None
    spectral_mean: float | None
    peak: float
    loudness: float
    voice: Speaker


class PictureData(Strict):
    """One picture, drawn into a square."""

    src: str
    alt: str


class ItemData(Strict):
    """One item. `letters`: the text cut up, true where letters spell the target.

    natural: null where no voice is fit; then the helper says it. long: null where none is asked,
    or no voice is fit.
    """

    id: str
    text: str
    letters: tuple[tuple[str, bool], ...]
    picture: PictureData | None
    natural: ClipData | None
    long: ClipData | None


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
    situation of a talk. counts: the targets of each word, since letters of two may stand side by
    side; minutes: of one sitting."""

    paragraphs: tuple[tuple[tuple[str, bool], ...], ...]
    words: int
    targets: int
    counts: tuple[int, ...]
    where: str
    company: str
    minutes: int


class StepData(Strict):
    """One step that is practiced on the page.

    reminder, misses: of its program; misses in a row. easier: id of the step to go back to, "" for
    none. changes: whether the voice changes inside a round. judges: the client judges each try
    before the helper does. pairs, imitated: to choose from; to hear and say, a word of each pair in
    turn. passage: past sentences, in place of rounds and items.
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
    rounds: tuple[RoundData, ...]
    items: tuple[ItemData, ...]
    pairs: tuple[tuple[ItemData, ItemData], ...]
    imitated: tuple[tuple[ItemData, ItemData], ...]
    passage: PassageData | None


class HissData(Strict):
    """The check of a loudspeaker. s, sh: addresses of the two clips; soft: a sound is practiced
    of which the check tells less."""

    s: str
    sh: str
    soft: bool
    wording: dict[str, str]


class VisitStep(Strict):
    """One published step. items: id and text of all that is said in it."""

    id: str
    name: str
    sound: str
    items: tuple[tuple[str, str], ...]


class VisitData(Strict):
    """What the page needs besides the record. records: the ways home that the clinic wants."""

    site: str
    client: str
    language: str
    helper: Role
    records: tuple[Way, ...]
    steps: tuple[VisitStep, ...]
    wording: dict[str, str]


class PageData(Strict):
    """All that practice on a page needs.

    times, days: of the plan. minutes: after so many a sitting ends; 0 for no end. estimate: minutes
    that a whole one takes, 0 on a step's own page. weeks: planned for this plan. paced: words come
    by themselves unless the family says otherwise. breath: long holds in a row; pause: seconds.
    steps: what is practiced, in order; easier: the steps they lead back to, which are not among
    them.
    """

    version: Literal[2]
    site: str
    plan: str
    practice: str
    home: str
    language: str
    helper: Role
    times: tuple[Time, ...]
    days: tuple[Day, ...]
    minutes: int
    estimate: int
    weeks: int
    paced: bool
    breath: int
    pause: float
    steps: tuple[StepData, ...]
    easier: tuple[StepData, ...]
    wording: dict[str, str]


def step_page_data(
    plan: Plan, program: PlannedProgram, step: PlannedStep, facts: Mapping[str, Facts], w: Wording
) -> PageData:
    """The data block of one step's page. Raises KeyError when a clip has no facts."""
    return _page_data(plan, [(program, step)], facts, w, "../", minutes=0, estimate=0)


def today_data(plan: Plan, facts: Mapping[str, Facts], w: Wording) -> PageData:
    """The data block of today's page: a whole sitting. Raises KeyError when a clip has no facts."""
    now = [(p, step) for p in plan.programs for step in p.steps if step.current]
    return _page_data(
        plan, now, facts, w, "./", minutes=plan.planned_minutes, estimate=plan.minutes
    )


def _page_data(
    plan: Plan,
    practised: Sequence[tuple[PlannedProgram, PlannedStep]],
    facts: Mapping[str, Facts],
    w: Wording,
    root: str,
    minutes: int,
    estimate: int,
) -> PageData:
    view = view_of(plan)
    here = {step.id for _, step in practised}
    found = ((program, easier_step(program, step)) for program, step in practised)
    easier = {step.id: (program, step) for program, step in found if step and step.id not in here}

    def data(program: PlannedProgram, step: PlannedStep) -> StepData:
        return _step(program, step, facts, root)

    return PageData(
        version=2,
        site=plan.slug,
        plan=view.digest,
        practice=view.practice_digest,
        home=root,
        language=plan.language,
        helper=plan.helper,
        times=plan.times,
        days=plan.days,
        minutes=minutes,
        estimate=estimate,
        weeks=plan.weeks,
        paced=plan.paced,
        breath=HOLDS_IN_A_ROW,
        pause=PAUSE_S,
        steps=tuple(data(*one) for one in practised),
        easier=tuple(data(*one) for one in easier.values()),
        wording=w.part("rounds"),
    )


def _step(
    program: PlannedProgram, step: PlannedStep, facts: Mapping[str, Facts], root: str
) -> StepData:
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
        rounds=tuple(map(_round, step.rounds)),
        items=tuple(_item(item, facts, root) for item in step.items),
        pairs=_pairs(step, chosen, facts, root),
        imitated=_pairs(step, step.imitated, facts, root),
        passage=_passage(step.passage),
    )


def _passage(passage: PlannedPassage | None) -> PassageData | None:
    return PassageData(**asdict(passage)) if passage else None


def hiss_data(plan: Plan, root: str, words: Wording) -> HissData | None:
    """What the two pages need that tell whether a loudspeaker hides a sound; None where the plan
    has nothing for it. root: the way from the page to the top."""
    if not plan.hiss:
        return None
    s, sh = (relative_address(clip.path, root) for clip in plan.hiss)
    soft = any(program.symbol in SOFT_SOUNDS for program in plan.programs)
    return HissData(s=s, sh=sh, soft=soft, wording=words.part("hiss"))


def visit_data(plan: Plan, w: Wording) -> VisitData:
    """The data block of a site; today's steps come first."""
    steps = [step for program in plan.programs for step in program.steps]
    return VisitData(
        site=plan.slug,
        client=plan.client,
        language=plan.language,
        helper=plan.helper,
        records=tuple(dict.fromkeys(plan.clinic.records)),
        steps=tuple(map(_visit_step, sorted(steps, key=lambda step: not step.current))),
        wording=w.part("visit"),
    )


def _visit_step(step: PlannedStep) -> VisitStep:
    items = tuple((item.id, item.text) for item in step.said)
    return VisitStep(id=step.id, name=step.name, sound=step.sound, items=items)


def easier_step(program: PlannedProgram, step: PlannedStep) -> PlannedStep | None:
    """The published step to go back to."""
    return next((s for s in program.steps if s.id == step.easier), None)


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
        return _item(own, facts, root)

    return tuple((of(pair, 0), of(pair, 1)) for pair in pairs)


def _item(item: PlannedItem, facts: Mapping[str, Facts], root: str) -> ItemData:
    return ItemData(
        id=item.id,
        text=item.text,
        letters=item.letters,
        picture=_picture(item.picture, root),
        natural=_clip(item.natural, facts, root) if item.natural else None,
        long=_clip(item.long, facts, root) if item.long else None,
    )


def _picture(picture: Picture | None, root: str) -> PictureData | None:
    if not picture:
        return None
    return PictureData(src=relative_address(picture.path, root), alt=picture.alt)


def _clip(clip: Clip, facts: Mapping[str, Facts], root: str) -> ClipData:
    known = facts[clip.key]
    return ClipData(
        src=relative_address(clip.path, root),
        duration=known.duration,
        start=known.start,
        end=known.end,
        spectral_mean=known.spectral_mean,
        peak=known.peak,
        loudness=known.loudness,
        voice=known.voice,
    )


def relative_address(path: str, root: str) -> str:
    """A path of the site as a relative address, from a page whose way to the top is `root`."""
    return root + quote(posixpath.normpath(path) + ("/" if path.endswith("/") else ""), safe="/")


# In a script element HTML looks only for "</script" and "<!--"; Markdown looks for backticks.
UNSAFE_IN_SCRIPT: dict[str, str | int | None] = {
    "<": "\\u003c",
    ">": "\\u003e",
    "&": "\\u0026",
    "`": "\\u0060",
    "\x7f": "\\u007f",
}


def script_json(data: Strict) -> str:
    """JSON for a script element of a Markdown file: ASCII, none of UNSAFE_IN_SCRIPT."""
    text = json.dumps(data.model_dump(mode="json"), ensure_ascii=True, separators=(",", ":"))
    return text.translate(str.maketrans(UNSAFE_IN_SCRIPT))
