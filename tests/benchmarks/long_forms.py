"""How well a sound is held inside the word that two voices and people say.

    python -m tests.benchmarks.long_forms             by sound class and voice
    python -m tests.benchmarks.long_forms --words     every word that misses a measure
    python -m tests.benchmarks.long_forms --clusters  a held sound before a glide or liquid

The embedded voice tells where the target lies; it is held once there and once with its place told
up to 30 ms too early or too late. For the others the place is found by alignment.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from builder.audio.align.forced import DOUBTFUL_SCORE, locate
from builder.audio.io.decode import decode
from builder.audio.speech import Speech, count
from builder.audio.sustain.sustain import sustain_target
from builder.audio.voices import embedded, natural
from builder.phonetics.inventory import Sound
from tests.benchmarks.voice_survey import Asked, asked, clusters
from tests.outside import real_speech
from tests.support.formants import nucleus_levels
from tests.support.long_form_measures import LongFormMeasures, compare_long_form

HOLD_S, SEED = 1.5, 7
PLACE_ERROR_S = 0.030  # seconds by which a place that was found may be wrong
CLASSES = ("fricative", "voiced fricative", "nasal", "liquid", "vowel")
PER_PLACE = 2  # words of each sound in each place


@dataclass(frozen=True)
class Case:
    """One word with its target. place: where the target truly lies, as well as it is known."""

    voice: str
    word: str
    position: str
    sound: Sound
    speech: Speech
    place: tuple[int, int]


@dataclass(frozen=True)
class Outcome:
    """What became of a case: the measures, or why it was not held."""

    case: Case
    found: LongFormMeasures | None
    why: str = ""


def kind(sound: Sound) -> str:
    """The class of the table."""
    if sound.kind != "consonant":
        return "vowel"
    return "voiced fricative" if sound.manner == "fricative" and sound.voiced else sound.manner


def outcome(case: Case, seconds: float = HOLD_S) -> Outcome:
    """Hold the target of one case."""
    sound = case.sound
    try:
        long = sustain_target(
            case.speech, seconds, voiced=sound.voiced, noisy=sound.manner == "fricative", seed=SEED
        )
    except ValueError as reason:
        return Outcome(case, None, str(reason))
    return Outcome(case, compare_long_form(case.speech, long, case.place, sound, seconds))


@cache
def chosen() -> tuple[Asked, ...]:
    """Some words for every sound that can be held, in each place, and the clusters."""
    taken: dict[tuple[str, str], list[Asked]] = {}
    for one in asked():
        if one.sound.hold != "no" and kind(one.sound) in CLASSES:
            taken.setdefault((one.sound.symbol, one.position), []).append(one)
    return tuple(one for words in taken.values() for one in words[:PER_PLACE])


def exact(words: tuple[Asked, ...], off: float = 0.0) -> Iterator[Case]:
    """By the embedded voice, the place told `off` seconds too late."""
    for one in words:
        speech = embedded.speak((one.phones,), one.focus, one.word)
        if speech.target:
            by = count(off, speech.rate)
            start, stop = (min(max(0, at + by), len(speech.samples)) for at in speech.target)
            moved = replace(speech, target=(start, stop))
            name = f"embedded {1000 * off:+.0f} ms" if off else "embedded"
            yield Case(name, one.word, one.position, one.sound, moved, speech.target)


def located(words: tuple[Asked, ...]) -> Iterator[Case]:
    """By the natural voice, where alignment finds the target in what is surely the word."""
    for one in words:
        speech = natural.speak((one.phones,), one.word, focus=one.focus)
        found = locate(speech.samples, speech.rate, (one.phones,), one.focus)
        if found and found.score >= DOUBTFUL_SCORE:
            placed = replace(speech, target=found.target)
            yield Case("natural", one.word, one.position, one.sound, placed, found.target)


def people() -> Iterator[Case]:
    """Recordings of people that reach up to 11 kHz, where they are installed."""
    for one in real_speech.RECORDINGS:
        if one.kind == "telephone" or one.sound.hold == "no" or not one.file.exists():
            continue
        samples, rate = decode(str(one.file))
        found = locate(samples, rate, one.words, one.focus)
        if found:
            speech = Speech(samples, rate, found.target, "recorded")
            yield Case("people", one.name, "", one.sound, speech, found.target)


def every() -> Iterator[Case]:
    """All cases, voice by voice."""
    yield from exact(chosen())
    for off in (-PLACE_ERROR_S, PLACE_ERROR_S):
        yield from exact(chosen(), off)
    yield from located(chosen())
    yield from people()


def table(outcomes: list[Outcome]) -> Iterator[str]:
    """A row for each voice and class: how many of the words hold each measure."""
    names = LongFormMeasures.names()
    yield "| voice | class | words | not held | " + " | ".join(names) + " | all |"
    yield "|---" * (len(names) + 5) + "|"
    groups = dict.fromkeys((o.case.voice, kind(o.case.sound)) for o in outcomes)
    for voice, of in sorted(
        groups, key=lambda g: (g[0], CLASSES.index(g[1]) if g[1] in CLASSES else 9)
    ):
        rows = [o for o in outcomes if (o.case.voice, kind(o.case.sound)) == (voice, of)]
        found = [o.found for o in rows if o.found]
        cells = [sum(name not in one.missed for one in found) for name in names]
        whole = sum(not one.missed for one in found)
        yield (
            f"| {voice} | {of} | {len(rows)} | {len(rows) - len(found)} | "
            + " | ".join(map(str, cells))
            + f" | {whole} |"
        )


def failures(outcomes: list[Outcome]) -> Iterator[str]:
    """The words that miss a measure, and by how much."""
    for one in outcomes:
        case = one.case
        told = one.why if one.found is None else one.found.told()
        if told:
            yield f"{case.voice:15} {case.sound.symbol:4} {case.word:28} {case.position:8} {told}"


def syllables() -> Iterator[str]:
    """Whether a held sound before a glide, liquid or vowel is heard as another syllable: its level
    beside the loudest of what follows, between 300 and 900 Hz, and how deep a dip parts them."""
    before_vowel = [o for o in asked() if o.sound.symbol in "RLWY" and o.position == "initial"]
    words = (*clusters(), *before_vowel)
    for case in (*exact(words), *located(words)):
        sound, rate = case.sound, case.speech.rate
        noisy = sound.manner == "fricative"
        long = sustain_target(case.speech, HOLD_S, voiced=sound.voiced, noisy=noisy, seed=SEED)
        start, stop = long.target or (0, 0)
        inset = count(0.1, rate)
        own = float(np.median(nucleus_levels(long.samples[start + inset : stop - inset], rate)))
        after = nucleus_levels(long.samples[stop - count(0.05, rate) :], rate)
        top = int(after.argmax())
        dip = min(own, after[top]) - float(after[: top + 1].min())
        beside = own - float(after[top])
        yield f"{case.voice:9} {sound.symbol:3} {case.word:8} {beside:6.1f} dB, dip {dip:5.1f} dB"


def main() -> None:
    """As the option says."""
    if "--clusters" in sys.argv:
        print(*syllables(), sep="\n")
        return
    outcomes = [outcome(case) for case in every()]
    print(*(failures(outcomes) if "--words" in sys.argv else table(outcomes)), sep="\n")


if __name__ == "__main__":
    main()
