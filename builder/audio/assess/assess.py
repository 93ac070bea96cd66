"""What a recording is worth for one item: read, aligned with the item's phones, measured."""

from __future__ import annotations

from dataclasses import dataclass

from builder.audio.align.forced import DOUBTFUL, align, hear
from builder.audio.align.substitutions import rival
from builder.audio.assess.issue import Remark, Word
from builder.audio.assess.quality import Quality, judge
from builder.audio.io.decode import decoded
from builder.audio.speech import Samples
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Focus, Words
from builder.problems import UsageError


@dataclass(frozen=True)
class Judged:
    """The verdict on a recording. target: in seconds of the file, None when not known."""

    target: tuple[float, float] | None
    word: Word
    remarks: tuple[Remark, ...]
    rank: float
    loudness: float | None


def judged(
    path: str, words: Words, focus: Focus | None, sound: Sound, *, form: str, alone: bool
) -> Judged:
    """Judge the file at `path`. One that cannot be read is refused, and says why."""
    try:
        samples, rate = decoded(path)
    except UsageError as problem:
        why = str(problem).removeprefix(f"{path}: ").rstrip(".")
        return Judged(
            None, "again", (Remark("unread", "refused", f"{_first(why)}.", ""),), 0.0, None
        )
    quality, target = heard(samples, rate, words, focus, sound, form=form, alone=alone)
    seconds = (target[0] / rate, target[1] / rate) if target else None
    return Judged(seconds, quality.word, quality.remarks, quality.rank, quality.loudness)


def heard(
    samples: Samples,
    rate: int,
    words: Words,
    focus: Focus | None,
    sound: Sound | None,
    *,
    form: str,
    alone: bool,
    machine: bool = False,
) -> tuple[Quality, tuple[int, int] | None]:
    """The quality of samples and where the target lies in them (samples).

    A sound by itself is all target; without `words` nothing is looked for. machine: a synthetic
    voice, which has no room and no microphone.
    """
    if alone or not words:
        return judge(samples, rate, None, sound, form=form, alone=alone, machine=machine), None
    table = hear(samples, rate)
    said = align(samples, rate, words, table) if table else None
    target = said.place(words, focus) if said and focus else None
    other = ""
    if said and table and focus and sound and not machine and said.score >= DOUBTFUL:
        other = rival(table, words, focus, sound.symbol, said)
    score = said.score if said else 0.0
    quality = judge(
        samples, rate, target, sound, score=score, other=other, form=form, machine=machine
    )
    return quality, target


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
