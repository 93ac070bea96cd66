"""Good takes to be spoiled: of people (tests/outside), of the natural voice and of the embedded
one as three speakers; each of the voices in a room with its noise."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from builder.audio.align.forced import locate
from builder.audio.io.decode import decode
from builder.audio.speech import Samples
from builder.audio.voices import embedded, natural
from builder.phonetics.inventory import Sound, bare, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import Focus
from tests.outside.real_speech import RECORDINGS, Spoken, at_hand
from tests.support.degraded import AROUND, resampled
from tests.support.spoiled import Recorded, in_a_room

# By speaker. The first table was looked at while the bounds were chosen; the second was not.
SEEN = "seal S, bus S, soap S, shoe SH, cow K, thumb TH, leaf L, moon N, tie T, fan F, bed B, zoo Z"
UNSEEN = (
    "sun S, house S, city S, fish SH, key K, bath TH, leg L, nose N, table T, food F, boat B, "
    "nose Z, dog D, goat G, man M, van V, chair CH, jam JH, pig P, red R"
)
ROOMS = "Front_Center, Rear_Center, Side_Left, Side_Right, Front_Right, Rear_Left"
REAL = f"{ROOMS}, Rear_Right, gas, fix, car, my, hot, key, jet".split(", ")
RATES = (44100, 48000, 22050)
BELOW_DB = (55.0, 50.0, 60.0)  # dB of the noise under the speech
SILENCE_S = (AROUND, 0.1, 0.25)  # at each end; one in three is trimmed tightly
GAINS = (1.0, 0.12, 0.5)  # one in three is a quiet voice
ESPEAK = {"plain": ("", 120), "belinda": ("belinda", 100), "m3": ("m3", 150)}


def people() -> Iterator[Recorded]:
    """Recordings of people that a listener has no fault to find with."""
    for one in RECORDINGS:
        narrow = one.kind == "telephone" and one.sound.symbol in ("K", "N", "L")  # of any band
        if narrow or (one.kind == "wide" and one.file.stem in REAL):
            yield of_person(one)


def of_person(one: Spoken) -> Recorded:
    samples, rate = decode(at_hand(one))
    found = locate(samples, rate, one.words, one.focus)
    assert found is not None
    return Recorded(
        speaker=f"{one.file.parts[-2]} {one.file.parts[-3]}",
        word=one.file.stem,
        words=one.words,
        focus=one.focus,
        sound=one.sound,
        samples=samples,
        rate=rate,
        target=found.target,
    )


def spoken(speaker: str, table: str) -> Iterator[Recorded]:
    """Words by a voice, each in a room of its own."""
    for at, entry in enumerate(table.split(", ")):
        word, symbol = entry.split()
        yield one_spoken(speaker, word, symbol, at)


def one_spoken(speaker: str, word: str, symbol: str, at: int) -> Recorded:
    phones = pronunciations(word)[0]
    place = [bare(phone) for phone in phones].index(symbol)
    words, focus = (phones,), (0, place, place + 1)
    if speaker == "natural":
        said = natural.speak(words)
    else:
        variant, pace = ESPEAK[speaker]
        said = embedded.speak(words, focus, word, pace=pace, variant=variant)
    rate, around = RATES[at % 3], SILENCE_S[at % 3]
    plain = resampled(_trimmed(said.samples), said.rate, rate)
    samples = in_a_room(plain, rate, seed=at, below=BELOW_DB[(at // 2) % 3], around=around)
    samples = np.round(samples * GAINS[(at // 3) % 3] * 32767) / 32768
    found = locate(samples, rate, words, focus)
    assert found is not None, word
    return Recorded(
        speaker=speaker,
        word=word,
        words=words,
        focus=focus,
        sound=sounds()[symbol],
        samples=samples,
        rate=rate,
        target=found.target,
    )


def in_speech_room(
    phones: tuple[str, ...], focus: Focus, sound: Sound, word: str, seed: int
) -> Recorded:
    """A word by the natural voice in a quiet room, at 44.1 kHz; its target is not looked for."""
    said = natural.speak((phones,))
    rate = RATES[0]
    plain = resampled(_trimmed(said.samples), said.rate, rate)
    return Recorded(
        speaker="natural",
        word=word,
        words=(phones,),
        focus=focus,
        sound=sound,
        samples=in_a_room(plain, rate, seed=seed),
        rate=rate,
        target=(0, 0),
    )


def _trimmed(samples: Samples) -> Samples:
    loud = np.flatnonzero(np.abs(samples) > 0.003 * np.abs(samples).max())
    return samples[loud[0] : loud[-1] + 1]


def others(take: Recorded, everything: Iterable[Recorded]) -> Iterator[Recorded]:
    """Takes of the same speaker with another target, one of each sound."""
    seen = {take.sound.symbol}
    for one in everything:
        if one.speaker == take.speaker and one.sound.symbol not in seen:
            seen.add(one.sound.symbol)
            yield one
