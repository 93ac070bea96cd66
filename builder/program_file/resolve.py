"""ProgramFile -> Program: defaults filled in, every item spelled out with its pronunciation.

What cannot be resolved (an unknown sound, a step that is not there) becomes a finding.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import chain

from builder.cues.by_sound import no_shape, shapes_of, with_clinic_cues
from builder.model.clinic import DAYS, TIMES, Clinic, asked_voice
from builder.model.dose import HOLD_S, usual_minutes
from builder.model.past_sentences import past_sentence_step, with_targets
from builder.model.program import (
    ERROR_KINDS,
    PAST_SENTENCES,
    Item,
    ItemFile,
    Level,
    Pair,
    Program,
    ProgramFile,
    Round,
    RoundFile,
    Show,
    Step,
    StepFile,
)
from builder.phonetics.clusters import parse_cluster
from builder.phonetics.inventory import Sound, UnknownSoundError, parse_sound
from builder.problems import KeyPath, Place, ProgramError
from builder.program_file.pronounce import Target, item_of, pair_of, sound_item, vowel_items
from builder.program_file.resolve_log import (
    Log,
    days_by_role,
    own_practice,
    own_sound,
    times_by_role,
    uses_the_clinics,
    usual_days,
    usual_times,
)
from builder.program_file.suggestions import listing
from builder.program_file.validate import program_file
from builder.program_file.yaml_tree import Tree
from builder.text.slugs import distinct, slug_of

CONTRAST_TIMES = 2  # so that each word of a pair may be chosen; common practice, no source
USUAL_VOWELS = ("ee", "ay", "ah", "oo")  # front and back; a word can end in each
USUAL_ROUNDS: dict[Level, tuple[tuple[str, str], ...]] = {
    "isolation": (("natural", "imitation"),),
    "syllable": (("natural", "imitation"),),
    "word": (("natural", "imitation"), ("natural", "spontaneous")),
    "phrase": (("natural", "imitation"),),
    "sentence": (("natural", "imitation"),),
}


def program_in(tree: Tree, clinic: Clinic) -> Program:
    """The program that a tree holds. Raises ProgramError with everything that is wrong in it."""
    written, places = program_file(tree)
    program = with_clinic_cues(resolve(written, tree.file, places, clinic), clinic)
    return replace(program, noted=(*tree.noted, *program.noted))


def resolve(
    written: ProgramFile, file: str, places: Mapping[KeyPath, Place], clinic: Clinic
) -> Program:
    """The program as meant. Raises ProgramError with everything that cannot be resolved."""
    log = Log(file, places)
    sound = _sound(written, log)
    current = _current(written, log)
    log.last = max(current, default=None)
    steps = _steps(written, sound, log) if sound else ()
    error = _error(written, log)
    lacks = _named(written.lacks, "lacks", log)
    has = _named(written.has, "has", log)
    if sound and written.shape and written.shape not in shapes_of(sound):
        problem = f"{no_shape(sound, written.shape)}."
        log.fault(("shape",), "value", problem, "Correct it, or delete the line.")
    own_practice(written, log)
    if sound is None or log.faults:
        raise ProgramError(log.faults)
    practice = written.practice
    by_role, own_times = days_by_role(written, clinic), times_by_role(written, clinic)
    days = {*chain(*by_role.values())} or usual_days(written, clinic)
    times = {*chain(*own_times.values())} or usual_times(written, clinic)
    program = Program(
        file=file,
        written=written,
        sound=sound,
        error=error,
        lacks=lacks,
        has=has,
        steps=steps,
        current=current,
        times=tuple(t for t in TIMES if t in times),
        days=tuple(d for d in DAYS if d in days),
        by_role=by_role,
        times_by_role=own_times,
        minutes=practice.minutes or _usual_minutes(written, steps, current),
        pace=clinic.pace,
        voice=asked_voice(written.voice or clinic.voice),
        hear_yourself=(
            clinic.hear_yourself if written.hear_yourself is None else written.hear_yourself
        ),
        defaults=(),
        places=places,
    )
    defaults = (*log.defaults, *_stated(program, clinic))
    return replace(program, defaults=defaults, noted=tuple(log.noted))


def _usual_minutes(written: ProgramFile, steps: tuple[Step, ...], current: tuple[int, ...]) -> int:
    return usual_minutes(written.age, (steps[at].level for at in current))


def _stated(program: Program, clinic: Clinic) -> tuple[str, ...]:
    practice = program.written.practice
    said = []
    if not practice.minutes:
        said.append(f"a sitting of {program.minutes} minutes")
    if uses_the_clinics(program.written, "times"):
        said.append(f"the clinic's sittings ({', '.join(usual_times(program.written, clinic))})")
    if uses_the_clinics(program.written, "days"):
        said.append(f"the clinic's days ({', '.join(usual_days(program.written, clinic))})")
    if "criteria" not in program.written.model_fields_set:
        said.append("criteria: on at 80 % on 3 days, back below 50 % on 2")
    return tuple(said)


def _sound(written: ProgramFile, log: Log) -> Sound | None:
    try:
        sound = parse_sound(written.sound)
    except UnknownSoundError as question:
        log.fault(("sound",), "sound", f"{question}.", "Write one of these after `sound:`.")
        return None
    if sound.kind == "vowel":
        log.fault(
            ("sound",),
            "sound",
            f"`{written.sound}` is a vowel; programs teach consonants and vowels with r.",
            "Name the consonant that this program teaches.",
        )
        return None
    return sound


def _error(written: ProgramFile, log: Log) -> Sound | str:
    if not written.error or written.error in ERROR_KINDS:
        return written.error
    try:
        return parse_sound(written.error)
    except UnknownSoundError as question:
        log.fault(
            ("error",), "sound", f"{question}.", f"Name the sound, or write {listing(ERROR_KINDS)}."
        )
        return ""


def _named(listed: tuple[str, ...], key: str, log: Log) -> tuple[Sound, ...]:
    """The sounds that stand after a key."""
    found = []
    for at, typed in enumerate(listed):
        try:
            found.append(parse_sound(typed))
        except UnknownSoundError as question:
            path: KeyPath = (key, at) if len(listed) > 1 else (key,)
            log.fault(path, "sound", f"{question}.", "Write each sound in one of these ways.")
    return tuple(dict.fromkeys(found))


def _current(written: ProgramFile, log: Log) -> tuple[int, ...]:
    names = [step.name for step in written.steps]
    several = len(written.current) > 1
    named: dict[KeyPath, str] = {
        ("current", at) if several else ("current",): name
        for at, name in enumerate(written.current)
    }
    if written.baseline and written.baseline.step:
        named["baseline", "step"] = written.baseline.step
    for path, name in named.items():
        if name not in names:
            remedy = f"Write the name of a step: {listing(names)}."
            log.fault(path, "current", f"No step is called `{name}`.", remedy)
    return tuple(sorted(names.index(name) for name in written.current if name in names))


def _steps(written: ProgramFile, sound: Sound, log: Log) -> tuple[Step, ...]:
    prefix = slug_of(sound.spelled)
    made = [s.id or f"{prefix}-{slug_of(s.name)}" for s in written.steps]
    names = distinct(made)
    steps = tuple(
        _step(written, sound, at, name, log)
        for at, name in zip(range(len(written.steps)), names, strict=True)
    )
    return with_targets(written, steps, sound)


def _step(written: ProgramFile, sound: Sound, at: int, name: str, log: Log) -> Step:
    step = written.steps[at]
    path: KeyPath = ("steps", at)
    sound = own_sound(step.sound, sound, (*path, "sound"), log)
    target = Target(sound, step.position or written.position, _cluster(step, sound, path, log))
    if step.level in PAST_SENTENCES:
        past = past_sentence_step(step, target.positions, target.cluster, name, path)
        return replace(past, sound=sound)
    pairs = _pairs(step, target, path, log)
    try:
        items = _items(written, step, target, pairs, path, log)
    except UnknownSoundError as problem:
        remedy = "Write the sound in one of these ways."
        log.item_fault(at, path, "sound", f"{problem}.", remedy)
        items = ()
    ids = distinct(item.id for item in items)
    return Step(
        id=name,
        name=step.name,
        level=step.level,
        positions=target.positions,
        cluster=target.cluster,
        rounds=_rounds(step, sound, path, log),
        items=tuple(
            item if item.id == i else replace(item, id=i)
            for item, i in zip(items, ids, strict=True)
        ),
        hold=step.hold or HOLD_S,
        path=path,
        sound=sound,
        pairs=pairs,
    )


def _cluster(step: StepFile, sound: Sound, path: KeyPath, log: Log) -> tuple[str, ...]:
    if not step.cluster:
        return ()
    try:
        return parse_cluster(step.cluster, sound)
    except UnknownSoundError as problem:
        remedy = f"Write a cluster that holds /{sound.ipa}/, or leave `cluster:` out."
        log.fault((*path, "cluster"), "sound", f"{problem}.", remedy)
        return ()


def _pairs(step: StepFile, target: Target, path: KeyPath, log: Log) -> tuple[Pair, ...]:
    found = []
    for at, written in enumerate(step.contrast):
        here: KeyPath = (*path, "contrast", at)
        try:
            found.append(pair_of(written, here, target))
        except UnknownSoundError as problem:
            remedy = "Correct the IPA symbols after `say:`."
            log.item_fault(int(path[1]), here, "sound", f"{problem}.", remedy)
    return tuple(found)


def _rounds(step: StepFile, sound: Sound, path: KeyPath, log: Log) -> tuple[Round, ...]:
    """The rounds as written; those of a contrast come after them, or alone."""
    there = tuple(_round(r, (*path, "rounds", i)) for i, r in enumerate(step.rounds))
    if step.contrast:
        here: KeyPath = (*path, "contrast")
        last = Round("natural", "spontaneous", "both", CONTRAST_TIMES, here, contrast=True)
        return (*there, last)
    if there:
        return there
    usual = USUAL_ROUNDS[step.level]
    if step.level == "isolation" and sound.stays_alone:
        usual = (("long", "imitation"),)
    listed = ", ".join(" ".join(r) for r in usual)
    log.defaults.append(f"rounds of '{step.name}' ({listed})")
    return tuple(
        _round(RoundFile.model_validate({"form": f, "support": s}), (*path, "rounds"))
        for f, s in usual
    )


def _round(written: RoundFile, path: KeyPath) -> Round:
    show: Show = written.show or "both"
    return Round(written.form, written.support, show, written.times, path)


Given = tuple[ItemFile, KeyPath, Target]


def _items(
    written: ProgramFile,
    step: StepFile,
    target: Target,
    pairs: tuple[Pair, ...],
    path: KeyPath,
    log: Log,
) -> tuple[Item, ...]:
    if step.contrast and not step.items:
        first: dict[str, Item] = {}
        for pair in pairs:
            first.setdefault(pair.target.id, pair.target)
        return tuple(first.values())
    given = _given(written, step, target, path)
    if given:
        return tuple(_item(one, step.level, int(path[1]), log) for one in given)
    if step.level == "isolation":
        return (sound_item(target, path),)
    if step.level == "syllable" and target.sound.kind == "consonant":
        if not step.vowels:
            log.defaults.append(f"vowels of '{step.name}' ({', '.join(USUAL_VOWELS)})")
        return vowel_items(target, step.vowels or USUAL_VOWELS, (*path, "vowels"))
    lists = "`words:`" if step.level == "word" else "`items:` in this step"
    log.item_fault(
        int(path[1]),
        path,
        "items",
        f"The step `{step.name}` has nothing to practice.",
        f"List what is to be said under {lists}.",
    )
    return ()


def _given(written: ProgramFile, step: StepFile, target: Target, path: KeyPath) -> list[Given]:
    if step.items:
        return [(item, (*path, "items", i), target) for i, item in enumerate(step.items)]
    if step.level != "word":
        return []
    return [
        (item, ("words", position, i), there)
        for position in target.positions
        for there in [replace(target, positions=(position,))]
        for i, item in enumerate(written.words.get(position, ()))
    ]


def _item(given: Given, level: Level, at: int, log: Log) -> Item:
    written, path, target = given
    try:
        return item_of(written, path, target, level)
    except UnknownSoundError as problem:
        remedy = "Correct the IPA symbols after `say:`."
        log.item_fault(at, (*path, "say"), "sound", f"{problem}.", remedy)
        return item_of(written.model_copy(update={"say": ""}), path, target, level)
