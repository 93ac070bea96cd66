"""The issues of the word and its target, in plain words, from their figures. Every bound is here
with its source. Refused is what would teach the wrong sound; all else is a warning.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from builder.audio.align.forced import DOUBTFUL_SCORE
from builder.audio.align.substitutions import SUBSTITUTIONS
from builder.audio.assess.issue import Issue, refusal
from builder.audio.assess.target import TargetMeasurements
from builder.phonetics.inventory import Sound, sounds

# Hz that the sound must reach (30 dB below its maximum). S Z: listeners know /s/ of women and
# children only with a band of 9 kHz: Stelmachowicz et al., JASA 110 (2001) 2183-2190. F TH: their
# peaks lie at 7.7 and 7.5 kHz (A. Jongman et al., JASA 108 (2000) 1252-1263), and some of the
# fall above must be there (common practice, no source): telephone, also "wideband", stops before.
# SH ZH and what ends in them: the peak lies at 3.8 kHz (the same), and what tells them from s is
# the fall above: two thirds of an octave of it (common practice, no source). Others: no bound.
MIN_BAND_HZ = {
    "S": 9000.0,
    "Z": 9000.0,
    "F": 8500.0,
    "TH": 8500.0,
    "SH": 6000.0,
    "ZH": 6000.0,
    "CH": 6000.0,
    "JH": 6000.0,
}
BAND_REQUIRED = ("S", "Z")  # must be heard up there; of weaker sounds noise may hide the top
# Hz, 0.5-11 kHz; wide around the means of adults 6133, 4229 Hz (Jongman et al. 2000, Table I).
SPECTRAL_MEAN_HZ = {
    "S": (4500.0, 10000.0),
    "Z": (4229.0, 10000.0),
    "SH": (2800.0, 7000.0),
    "ZH": (2000.0, 7000.0),
}
# Seconds of friction, means of adults (Jongman et al. 2000); up to three times as long is usual in
# words said by themselves (common practice, no source).
FRICTION_S = {
    "S": 0.178,
    "SH": 0.178,
    "F": 0.166,
    "TH": 0.163,
    "Z": 0.118,
    "ZH": 0.123,
    "V": 0.080,
    "DH": 0.088,
}
FRICTION_MAX_FACTOR = 3.0
# Seconds of friction from which on listeners know /ʃ z/; /f s v/ need 50 ms: A. Jongman: Duration
# of frication noise required for identification of English fricatives. JASA 85 (1989) 1718-1725.
FRICTION_MIN_S = 0.030
# Seconds from the release of a stop that does not end its word to the next sound. P T K: the
# longest of words said by themselves (L. Lisker, A. Abramson, Word 20 (1964) 384-422). The others:
# clean ones of two voices last 0.09 and 0.10 at most (measured). A longer one is another sound.
STOP_MAX_S = {
    **dict.fromkeys(("P", "T", "K"), 0.135),
    **dict.fromkeys(("B", "D", "G"), 0.10),
    **dict.fromkeys(("CH", "JH"), 0.15),
}
HELD_MIN_S = 0.5  # seconds; a held target lasts longer (common practice, no source)
# Share of a held voiced sound in which a voice is heard (common practice, no source).
HELD_VOICED_MIN_SHARE = 0.7
# Mean power of sounds in conversation, of the faintest: H. Fletcher: Speech and Hearing in
# Communication, Van Nostrand 1953, Table 8 (recalled from memory). What is much softer beside the
# loudest vowel is hardly heard; how much softer it may be was measured (tests.benchmarks.spoiled).
LOUDEST_POWER = 680.0
SPEECH_POWER = {
    "R": 210.0,
    "L": 100.0,
    "SH": 80.0,
    "NG": 73.0,
    "M": 52.0,
    "CH": 42.0,
    "N": 36.0,
    "JH": 23.0,
    "ZH": 20.0,
    "Z": 20.0,
    "S": 16.0,
    "T": 15.0,
    "G": 15.0,
    "K": 13.0,
    "V": 12.0,
    "DH": 11.0,
    "B": 7.0,
    "D": 7.0,
    "P": 6.0,
    "F": 5.0,
    "TH": 1.0,
    "HH": 7.0,  # not in that table; measured on people and two voices
}
SOFTER_DB = 10.0
# dB below the loudest moment of half of a stop that does not end its word: its release, with which
# the vowel begins. Clean ones lie above -24 (/b/ above -14), 20 dB too soft below -29 (-24).
STOP_MEDIAN_DB = {**dict.fromkeys(("P", "T", "D", "K", "G"), -27.0), "B": -20.0}
SOFTER_BY_SOUND_DB = {**dict.fromkeys(("P", "B", "T", "D", "K", "G"), 9.0), "F": 15.0}
# The same of p t k at most: what is nearly as loud as the vowel is the vowel. Of 48 clean words of
# two voices the loudest, the t of `water`, lies at -7, of 8 recordings of people at -11.
LOUD_STOP_DB = -5.0
LOUD_STOPS = ("P", "T", "K")
# dB by which the voice (below 500 Hz) stands above the friction (above 2 kHz), at least and at
# most: measured on people and on 350 words of two voices, of which 5 lie outside. Voiced stops and
# fricatives may lose their voice at the end of a word.
VOICE_OVER_FRICTION_DB = {
    **dict.fromkeys(("M", "N", "NG", "L", "R", "W"), (4.0, math.inf)),
    "Y": (0.0, math.inf),
    "S": (-math.inf, 0.0),
    "SH": (-math.inf, -4.0),
    "CH": (-math.inf, -3.0),
    "F": (-28.0, 6.0),
    "TH": (-28.0, 6.0),
    "T": (-28.0, 1.0),
    "K": (-19.0, 6.0),
    "P": (-20.0, math.inf),
    "HH": (-24.0, 10.0),
    "B": (-8.0, math.inf),
    "G": (-16.0, math.inf),
    "D": (-21.0, math.inf),
    "V": (-20.0, math.inf),
    **dict.fromkeys(("Z", "ZH", "JH"), (-math.inf, 15.0)),
}
OTHER_WORD_SHARE = 0.3  # of DOUBTFUL_SCORE: below it another word was said


def word_issues(score: float | None) -> Iterator[Issue]:
    """Whether the word was said; score: of the alignment, None when nothing was aligned."""
    if score is not None and score < DOUBTFUL_SCORE:
        figure = f"{100 * score:.0f} % sure"
        if score < OTHER_WORD_SHARE * DOUBTFUL_SCORE:
            yield refusal("word", "This does not sound like the word: say it again.", figure)
        else:
            yield Issue("word", "warning", "This may not be the word: listen to it.", figure)


def substitution_issues(sound: Sound, substitution: str) -> Iterator[Issue]:
    """substitution: the symbol of the sound that was rather said; "" for none. It is named only
    where it is often said instead: what else fits better may stand for a third sound."""
    if substitution in SUBSTITUTIONS.get(sound.symbol, ()):
        text = f"/{sound.ipa}/ sounds more like /{sounds()[substitution].ipa}/: listen to it."
        yield Issue("sound", "warning", text, "")
    elif substitution:
        text = f"/{sound.ipa}/ sounds more like another sound: listen to it."
        yield Issue("sound", "warning", text, "")


def target_issues(
    sound: Sound, found: TargetMeasurements, *, held: bool, alone: bool, final: bool
) -> Iterator[Issue]:
    """What holds for this sound. held: it is meant to be held. final: it ends its word, or may."""
    yield from _band(sound, found.reach, found.hidden)
    low, high = SPECTRAL_MEAN_HZ.get(sound.symbol, (0.0, 1e9))
    if found.mean is not None and not low <= found.mean <= high:
        side = "duller" if found.mean < low else "sharper"
        text = f"/{sound.ipa}/ sounds {side} than most adults say it: listen to it."
        rule = "dull" if found.mean < low else "sharp"
        yield Issue(rule, "warning", text, f"{found.mean / 1000:.1f} kHz")
    yield from _length(sound, found, held=held, alone=alone)
    yield from _release(sound, found) if not final else ()
    yield from _softness(sound, found, final=final)
    yield from _character(sound, found)


def _release(sound: Sound, found: TargetMeasurements) -> Iterator[Issue]:
    if found.seconds > STOP_MAX_S.get(sound.symbol, math.inf):
        text = f"/{sound.ipa}/ lasts long, as another sound would: listen to it."
        yield Issue("length", "warning", text, f"{1000 * found.seconds:.0f} ms")


def _softness(sound: Sound, found: TargetMeasurements, *, final: bool) -> Iterator[Issue]:
    power = SPEECH_POWER.get(sound.symbol)
    if found.level is None or found.median is None or power is None:
        return
    usual = 10 * math.log10(power / LOUDEST_POWER)
    faint = not final and found.median < STOP_MEDIAN_DB.get(sound.symbol, -math.inf)
    if not final and sound.symbol in LOUD_STOPS and found.median > LOUD_STOP_DB:
        text = f"Where /{sound.ipa}/ should be, the vowel is heard: /{sound.ipa}/ may be missing."
        yield Issue("soft", "warning", f"{text} Say it again.", f"{-found.median:.0f} dB softer")
    elif faint or found.level < usual - SOFTER_BY_SOUND_DB.get(sound.symbol, SOFTER_DB):
        text = (
            f"/{sound.ipa}/ is hardly heard beside the rest of the word (in usual speech it is "
            f"{-usual:.0f} dB softer than the loudest vowel): say it again, more clearly."
        )
        yield Issue(
            "soft", "warning", text, f"{-(found.median if faint else found.level):.0f} dB softer"
        )


def _character(sound: Sound, found: TargetMeasurements) -> Iterator[Issue]:
    low, high = VOICE_OVER_FRICTION_DB.get(sound.symbol, (-math.inf, math.inf))
    over = found.voice_over_friction
    if over is None or low <= over <= high:
        return
    heard = "more hiss than voice" if over < low else "more voice than hiss"
    text = f"In /{sound.ipa}/ there is {heard}, as in another sound: listen to it."
    yield Issue("sound", "warning", text, f"voice {over:+.0f} dB over the hiss")


def _length(sound: Sound, found: TargetMeasurements, *, held: bool, alone: bool) -> Iterator[Issue]:
    usual, seconds = FRICTION_S.get(sound.symbol), found.seconds
    if (held or alone) and sound.hold == "yes":
        if seconds < HELD_MIN_S:
            text = f"/{sound.ipa}/ is barely held: hold it for a second or more."
            yield Issue("length", "warning", text, f"{seconds:.1f} s")
        if sound.voiced and found.voiced < HELD_VOICED_MIN_SHARE:
            text = (
                f"/{sound.ipa}/ loses its voice while it is held: keep humming, or say it shorter."
            )
            yield Issue("devoiced", "warning", text, f"{100 * found.voiced:.0f} %")
    elif usual and not alone and not FRICTION_MIN_S <= seconds <= FRICTION_MAX_FACTOR * usual:
        side = "short" if seconds < FRICTION_MIN_S else "long"
        text = f"/{sound.ipa}/ is very {side}: say the word as in normal speech."
        yield Issue("length", "warning", text, f"{1000 * seconds:.0f} ms")


def _band(sound: Sound, reach: float, hidden: bool) -> Iterator[Issue]:
    least = MIN_BAND_HZ.get(sound.symbol, 0.0)
    if not 0 < reach < least:
        return
    found, needs = f"{reach / 1000:.1f} kHz", f"{least / 1000:g} kHz"
    if hidden and sound.symbol not in BAND_REQUIRED:
        text = (
            f"Noise covers /{sound.ipa}/ above {found}: record in a quieter room, closer to the "
            "microphone."
        )
        yield Issue("band", "warning", text, found)
        return
    how = (
        f"Noise covers /{sound.ipa}/ above {found}"
        if hidden
        else (f"Nothing of /{sound.ipa}/ is heard above {found}")
    )
    text = (
        f"{how}; it needs at least {needs}. Phone memos and calls cut it off: record on the page "
        f"of `practice-site record`. If it was recorded well, the /{sound.ipa}/ is too soft: say "
        "it again, more sharply."
    )
    yield refusal("band", text, found)
