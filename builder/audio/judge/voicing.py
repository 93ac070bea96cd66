"""Whether a voiced fricative has its voice, and its friction: without the one /z/ is heard as /s/,
without the other /v/ as a hum and /ð/ as /d/."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from builder.audio.dsp.runs import runs
from builder.audio.judge.fault import Fault
from builder.audio.judge.pieces import Pieces
from builder.phonetics.inventory import Sound, sounds

# Seconds without a voice from which on listeners hear a fricative as voiceless: K. Stevens,
# S. Blumstein, L. Glicksman, M. Burton, K. Kurowski: Acoustic and perceptual characteristics of
# voicing in fricatives and fricative clusters. JASA 91 (1992) 2979-3000.
UNVOICED_MAX_S = 0.060
# dB below the friction; a weaker voice is none: the /z/ of speakers lies 6 dB below it at most,
# their /s/ 13 dB and more (tests/outside/real_speech.py: measured for this bound).
VOICE_UNDER_FRICTION_DB = 15.0
# dB below the loudest friction of the target: there the next sound begins, or nothing sounds.
FRICTION_ENDS_DB = 20.0
# Share of a held sound that has its voice; its end may die away (common practice, no source).
HELD_VOICED_MIN_SHARE = 0.8
# The same of what a person says in a word: a speaker's /ʒ/ begins with 75 ms without a voice
# (tests/outside/test_people_judged.py), an /s/ in its place has none at all.
SPOKEN_VOICED_MIN_SHARE = 0.2
# dB by which the voice may stand above the friction. Two voices, 300 words: 5 to 20.4 dB where
# friction is heard, 21.4 to 34 where the spectrogram shows a hum or a closure. Speakers' /v/ has 5
# to 34 dB, so recordings are not measured by it.
HUM_DB = 21.0
DEVOICED = {"V": "F", "DH": "TH", "Z": "S", "ZH": "SH"}
STOPPED = {"V": "hum", "DH": "d"}


def voice_faults(
    found: Pieces, sound: Sound, *, held: bool, person: bool = False
) -> Iterator[Fault]:
    """Whether the voice lasts. found: the pieces of the target alone. person: a recording."""
    if sound.symbol not in DEVOICED or not len(found.voice):
        return
    voiced = found.voiced_among(found.voice > found.friction - VOICE_UNDER_FRICTION_DB)
    rubbing = found.friction > found.friction.max() - FRICTION_ENDS_DB
    unvoiced = rubbing & ~voiced
    longest = max((past - first for first, past in runs(unvoiced)), default=0) * found.step
    share = float(voiced[rubbing].mean())
    like = sounds()[DEVOICED[sound.symbol]].ipa
    text = f"/{sound.ipa}/ loses its voice: it would be heard as /{like}/"
    if (held or person) and share < (HELD_VOICED_MIN_SHARE if held else SPOKEN_VOICED_MIN_SHARE):
        yield Fault("devoiced", text, f"a voice in {100 * share:.0f} % of it")
    elif not held and not person and longest > UNVOICED_MAX_S:
        yield Fault("devoiced", text, f"{1000 * longest:.0f} ms without a voice")


def friction_faults(found: Pieces, sound: Sound) -> Iterator[Fault]:
    """Whether a weak voiced fricative has friction. found: the pieces of the target alone."""
    if sound.symbol not in STOPPED or not len(found.voice):
        return
    over = float(np.median(found.voice - found.friction))
    if over > HUM_DB:
        like = STOPPED[sound.symbol]
        text = f"/{sound.ipa}/ has no friction: it would be heard as a {like}"
        yield Fault("friction", text, f"the voice stands {over:.0f} dB above it")
