"""One program of a client -> what its pages show: steps, rounds, items with clips and pictures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import zip_longest

from builder.model.past_sentences import targets_of
from builder.model.plan import (
    Clip,
    Code,
    PlannedItem,
    PlannedPassage,
    PlannedProgram,
    PlannedRound,
    PlannedStep,
)
from builder.model.program import JUDGED, PAST_SENTENCES, Item, Pair, Program, Round, Step
from builder.model.record import CONTRAST
from builder.phonetics.inventory import ipa_of
from builder.planning.plan_clips import ClipPair, ClipPlanner
from builder.planning.plan_pictures import picture_of, with_drawings
from builder.program_file.pronounce import Target, of_step, targets_in
from builder.survey.survey import Survey
from builder.text.letters import letters_of
from builder.text.passage import marked, per_word, words_of_passage
from builder.text.slugs import distinct
from builder.workspace.store import key_of

EXAMPLES = 4  # words that the helper hears both ways
STRESSED = "ER"  # /ɝ/ in ARPAbet; without stress it is another vowel, /ɚ/


def planned_program(
    program: Program, survey: Survey, clips: ClipPlanner, address: str
) -> PlannedProgram:
    """A program with its published steps. address: of the site, "" without one."""
    cues = program.written.cues
    parts = (("tongue", cues.tongue), ("lips", cues.lips), ("air", cues.air), ("voice", cues.voice))
    return PlannedProgram(
        sound=program.sound.spelled,
        symbol=program.sound.symbol,
        ipa=program.sound.ipa,
        example=_example(program),
        alone=clips.alone() if program.sound.kind == "consonant" else None,
        error=program.error if isinstance(program.error, str) else program.error.ipa,
        reminder=program.written.reminder,
        cues=tuple((name, text) for name, text in parts if text),
        steps=tuple(
            _step(program, at, survey, clips, address) for at in range(len(program.published_steps))
        ),
        misses=program.written.misses,
        criteria=program.written.criteria,
        wrong=tuple(clips.wrong())[:EXAMPLES],
        shape=program.written.shape,
        drawing=program.written.drawing and clips.client.clinic.drawing,
    )


def code_of(site: str, page: str, name: str, label: str, interface: tuple[str, ...]) -> Code:
    """The code of a page in the first language, with those of the same page in further ones; what
    decides its look is in the key.

    site: its address; page: in it, as in "words/", "" for today's; name: of the files.
    """

    def code(folder: str) -> Code:
        address = f"{site}{folder}{page}"
        return Code(key_of(code=address, form=2), f"codes/{folder}{name}", address, label)

    further = tuple((language, code(f"{language}/")) for language in interface[1:])
    return replace(code(""), further=further)


def _example(program: Program) -> str:
    """A word of the client's own with the sound where it is practiced, else the table's word.

    Best is one in which the usual letters of the sound spell it: "s, as in city" misleads. For
    /ɝ/ it is one that has it stressed: the end of dollar is /ɚ/.
    """
    own = (s for s in program.published_steps if (s.sound or program.sound) == program.sound)
    words = [i for s in own if s.level == "word" for i in s.items if i.focus]
    is_stressed = program.sound.symbol == STRESSED
    if is_stressed:
        words = [item for item in words if _has_stress(item)]
    words.sort(key=lambda item: _letters(item).lower() != program.sound.spelled)
    listed = (
        w.word
        for position in program.written.position
        for w in program.written.words.get(position, ())
    )
    if words or is_stressed:  # of what is only listed no pronunciation is known
        return words[0].text if words else program.sound.example
    return next(listed, program.sound.example)


def _has_stress(item: Item) -> bool:
    word, first, _ = item.focus or (0, 0, 0)
    return not item.words[word].phones[first].endswith("0")


def _letters(item: Item) -> str:
    """The letters of the target, "" where that is not known."""
    focus = (item.focus,) if item.focus else ()
    parts = letters_of(item.text, item.phones_by_word, focus, alone=False)
    return "".join(part for part, target in parts if target)


def _step(
    program: Program, at: int, survey: Survey, clips: ClipPlanner, address: str
) -> PlannedStep:
    step = program.steps[at]
    survey = with_drawings(survey, clips.client, program.written.steps[at])
    items, others = step.items, step.said[len(step.items) :]
    natural = clips.round(step, items, "natural")
    natural += tuple(clips.clip(step, item, "natural") for item in others)
    held = any(r.form == "long" for r in step.rounds)
    long = clips.round(step, items, "long") if held else ()
    said = tuple(
        _item(program, step, item, survey, *heard)
        for item, *heard in zip_longest(step.said, natural, long)
    )
    imitated = () if program.written.reads else tuple(p for p in step.pairs if _bare(p, survey))
    return PlannedStep(
        id=step.id,
        name=step.name,
        level=step.level,
        sound=of_step(program, step).sound.spelled,
        positions=step.positions,
        current=at in program.current,
        easier=program.steps[at - 1].id if at else "",
        rounds=_rounds(step, imitated),
        items=said[: len(items)],
        tries=step.tries,
        code=code_of(address, f"{step.id}/", step.id, step.name, clips.client.interface)
        if address
        else None,
        pairs=_ids(step.pairs),
        imitated=_ids(imitated),
        others=said[len(items) :],
        paired=_paired(step, said, clips),
        judges=program.written.client_judges and step.level in JUDGED,
        hears=program.hear_yourself and step.level not in PAST_SENTENCES,
        passage=_passage(program, step) if step.level in PAST_SENTENCES else None,
    )


def _passage(program: Program, step: Step) -> PlannedPassage:
    found = targets_of(program.steps, step, program.sound)
    return PlannedPassage(
        paragraphs=marked(step.passage, found),
        words=len(words_of_passage(step.passage)),
        targets=len(found),
        counts=per_word(step.passage, found),
        where=step.where,
        company=step.company,
        minutes=step.minutes,
    )


def _bare(pair: Pair, survey: Survey) -> bool:
    """Whether a word of the pair has nothing to see but its print."""
    return not all(survey.has_picture(item) for item in (pair.target, pair.other))


def _paired(step: Step, said: tuple[PlannedItem, ...], clips: ClipPlanner) -> tuple[ClipPair, ...]:
    """The clips of the pairs; () where all are those that other rounds have."""
    natural = {item.id: item.natural for item in said}
    own = tuple((natural[pair.target.id], natural[pair.other.id]) for pair in step.pairs)
    found = tuple(
        clips.pair(step, (pair.target, pair.other), both)
        for pair, both in zip(step.pairs, own, strict=True)
    )
    return found if found != own else ()


def _ids(pairs: tuple[Pair, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((pair.target.id, pair.other.id) for pair in pairs)


def _rounds(step: Step, imitated: tuple[Pair, ...]) -> tuple[PlannedRound, ...]:
    """The rounds; that of a contrast is two where only some pairs can be chosen from."""
    planned = [r for one in step.rounds for r in _of_pairs(one, step, imitated)]
    ids = distinct(f"{r.form}-{_kind(r)}" for r in planned)
    return tuple(
        PlannedRound(i, r.form, r.support, r.show, r.times, r.contrast)
        for i, r in zip(ids, planned, strict=True)
    )


def _of_pairs(planned: Round, step: Step, imitated: tuple[Pair, ...]) -> Iterator[Round]:
    if planned.contrast and imitated:
        yield replace(planned, support="imitation")
    if not planned.contrast or len(imitated) < len(step.pairs):
        yield planned


def _kind(planned: Round) -> str:
    if not planned.contrast:
        return planned.support
    return f"{CONTRAST}-imitation" if planned.support == "imitation" else CONTRAST


def _item(
    program: Program,
    step: Step,
    item: Item,
    survey: Survey,
    natural: Clip | None,
    long: Clip | None,
) -> PlannedItem:
    phones = item.phones_by_word
    target = Target(of_step(program, step).sound, step.positions, step.cluster)
    targets = targets_in(item, target)
    if long and item.focus:
        targets = (item.focus,)  # held is the one alone, and the line along it lasts as long
    return PlannedItem(
        id=item.id,
        text=item.text,
        letters=letters_of(item.text, phones, targets, alone=step.level == "isolation"),
        ipa=" ".join(map(ipa_of, phones)),
        position=item.position,
        picture=picture_of(item, step.level, survey),
        natural=natural,
        long=long,
    )
