"""The issues of a recording, in plain words, from its figures.

Every bound is here with its source. Refused is what would teach the wrong sound or cannot be
fixed; all else is a warning.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.audio.align.forced import DOUBTFUL_SCORE
from builder.audio.assess.issue import Issue, Severity
from builder.audio.assess.measurements import Measurements
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
# dB below the speech: D. Deliyski et al.: Adverse effects of environmental noise on acoustic voice
# quality measurements. Journal of Voice 19 (2005) 15-28: 42 recommended, 30 at least.
SNR_REFUSED_DB, SNR_WARNED_DB = 30.0, 42.0
# Runs of three or more samples at full scale, or tops cut off flat below it; one may be chance.
CLIPPED_WARNED_RUNS, CLIPPED_REFUSED_RUNS = 2, 6  # (common practice, no source)
# Pieces of 5 ms up to full scale; a clean word has fewer (measured on two voices).
NEAR_CLIPPED_PIECES = 10
OFFSET_SHARE = 0.01  # of full scale (common practice, no source)
HUM_SHARE = 0.5  # share of the low noise that stands in lines of the mains
QUIET_LUFS, SILENT_LUFS = -45.0, -60.0  # LUFS (common practice, no source)
# dB below the speech; an end that is louder is cut off, or may be (common practice, no source).
CUT_REFUSED_DB, CUT_WARNED_DB = 20.0, 30.0
PAUSE_MAX_S = 0.6  # inside a word (common practice, no source)
SILENCE_MAX_S = 3.0  # seconds of silence at one end (common practice, no source)
WORD_MIN_S = 0.1  # that a word sounds (common practice, no source)
# Share of a word that holds a voice: every word has a vowel, "sit" little of it.
VOICED_MIN_SHARE = 0.05
CONTRAST_MIN_DB = 10.0  # what rises less above its softest parts is noise or was cut
# Hz, 0.5-11 kHz; wide around the means of adults 6133, 4229 Hz (Jongman et al. 2000, Table I).
SPECTRAL_MEAN_HZ = {
    "S": (4500.0, 10000.0),
    "Z": (3000.0, 10000.0),
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
HELD_MIN_S = 0.5  # seconds; a held target lasts longer (common practice, no source)
# Share of a held voiced sound in which a voice is heard (common practice, no source).
HELD_VOICED_MIN_SHARE = 0.7
NOT_SPEECH = ("empty", "short", "voice")  # after these nothing more is said
OTHER_WORD_SHARE = 0.3  # of DOUBTFUL_SCORE: below it another word was said


@dataclass(frozen=True)
class TargetMeasurements:
    """The target's figures: the highest frequency in Hz and whether noise hides what is above,
    the spectral mean in Hz (None: too short, or too low a rate), the length in seconds, and the
    share of it that holds a voice, 0..1."""

    reach: float
    hidden: bool
    mean: float | None
    seconds: float
    voiced: float


def not_speech(found: Measurements, rate: int, *, alone: bool) -> Iterator[Issue]:
    """What is no recording of speech at all; then nothing more is said."""
    below = signal_to_noise(found)
    if found.loudness < SILENT_LUFS:
        text = "Almost nothing was recorded: choose the right microphone and move closer to it."
        yield _refused("empty", text, f"{max(found.loudness, -100):.0f} LUFS")
    elif below is not None and below < CONTRAST_MIN_DB:
        text = (
            "Nothing stands out in this recording: it is all noise, or it starts and ends in the "
            "middle of the sound. Leave half a second of silence before and after, in a quiet room."
        )
        yield _refused("empty", text, f"{below:.0f} dB")
    elif not alone and _sounding(found, rate) < WORD_MIN_S:
        text = "This recording is too short to be a word."
        yield _refused("short", text, f"{_sounding(found, rate):.2f} s")
    elif not alone and found.voiced < VOICED_MIN_SHARE:
        text = "No voice is heard in this recording: it is only noise, or it is whispered."
        yield _refused("voice", text, f"{100 * found.voiced:.0f} %")


def recording_issues(found: Measurements, rate: int) -> Iterator[Issue]:
    """What holds for any sound."""
    yield from _clipped(found)
    yield from _level(found)
    yield from _ends(found)
    yield from _silence(found, rate)


def _sounding(found: Measurements, rate: int) -> float:
    return (found.spoken[1] - found.spoken[0]) / rate


def signal_to_noise(found: Measurements) -> float | None:
    """How many dB the noise lies below the speech."""
    return None if found.noise is None else min(96.0, found.loudness - found.noise)


def _level(found: Measurements) -> Iterator[Issue]:
    below = signal_to_noise(found)
    if below is not None and below < SNR_WARNED_DB:
        hums = found.hum > HUM_SHARE
        what = "There is mains hum" if hums else "The room or the microphone is noisy"
        how = "unplug chargers, keep away from cables" if hums else "find a quieter room"
        text = f"{what}, only {below:.0f} dB below the voice: {how}, move closer to the microphone."
        rule = "hum" if hums else "noise"
        yield Issue(rule, _severity(below < SNR_REFUSED_DB), text, f"{below:.0f} dB")
    if found.loudness < QUIET_LUFS:
        text = "The recording is very quiet; it is made louder, and so is its noise."
        yield Issue("quiet", "warning", text, f"{found.loudness:.0f} LUFS")
    if abs(found.offset) > OFFSET_SHARE:
        text = "The recording has an offset (a fault of the microphone input); it is removed."
        yield Issue("offset", "warning", text, f"{100 * found.offset:.1f} %")


def _clipped(found: Measurements) -> Iterator[Issue]:
    runs = max(found.clipped, found.flat)
    if runs >= CLIPPED_WARNED_RUNS or found.near_clipped >= NEAR_CLIPPED_PIECES:
        text = "The recording is clipped (too loud for the microphone): move further away from it."
        refused = runs >= CLIPPED_REFUSED_RUNS
        yield Issue("clipped", _severity(refused), text, f"{max(runs, found.near_clipped)} places")


def _silence(found: Measurements, rate: int) -> Iterator[Issue]:
    around = max(found.spoken[0] / rate, found.seconds - found.spoken[1] / rate)
    if around > SILENCE_MAX_S:
        text = "There is a long silence before or after the word; it is cut off."
        yield Issue("silence", "warning", text, f"{around:.1f} s")
    below = signal_to_noise(found)
    if found.pause > PAUSE_MAX_S and (below is None or below >= SNR_REFUSED_DB):
        text = "There is a pause in it: record one item at a time, said once, without a break."
        yield Issue("pause", "warning", text, f"{found.pause:.1f} s")


def _ends(found: Measurements) -> Iterator[Issue]:
    floor = found.noise if found.noise is not None else -200.0
    for level, which, where in (
        (found.head, "first", "before"),
        (found.tail, "last", "after"),
    ):
        below = found.loudness - level
        if below < CUT_WARNED_DB and level > floor + CONTRAST_MIN_DB:
            refused = below < CUT_REFUSED_DB
            verb = "is" if refused else "may be"
            text = (
                f"The {which} sound {verb} cut off: leave half a second of silence {where} "
                "the word."
            )
            yield Issue("cut", _severity(refused), text, f"{below:.0f} dB")


def word_issues(score: float | None) -> Iterator[Issue]:
    """Whether the word was said; score: of the alignment, None when nothing was aligned."""
    if score is not None and score < DOUBTFUL_SCORE:
        severity = _severity(score < OTHER_WORD_SHARE * DOUBTFUL_SCORE)
        yield Issue("word", severity, "This may not be the word: listen to it.", f"{score:.2f}")


def substitution_issues(sound: Sound, substitution: str) -> Iterator[Issue]:
    """substitution: the symbol of the sound that was rather said; "" for none."""
    if substitution:
        ipa = sounds()[substitution].ipa
        yield Issue(
            "sound", "warning", f"/{sound.ipa}/ sounds more like /{ipa}/: listen to it.", ""
        )


def target_issues(
    sound: Sound, found: TargetMeasurements, *, held: bool, alone: bool
) -> Iterator[Issue]:
    """What holds for this sound. held: it is meant to be held."""
    yield from _band(sound, found.reach, found.hidden)
    low, high = SPECTRAL_MEAN_HZ.get(sound.symbol, (0.0, 1e9))
    if found.mean is not None and not low <= found.mean <= high:
        side = "duller" if found.mean < low else "sharper"
        text = f"/{sound.ipa}/ sounds {side} than most adults say it: listen to it."
        yield Issue("colour", "warning", text, f"{found.mean / 1000:.1f} kHz")
    yield from _length(sound, found, held=held, alone=alone)


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
    yield _refused("band", text, found)


def _severity(refused: bool) -> Severity:
    return "refused" if refused else "warning"


def _refused(rule: str, sentence: str, figure: str) -> Issue:
    return Issue(rule, "refused", sentence, figure)
