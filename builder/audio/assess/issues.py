"""The issues of a recording, in plain words, from its figures.

Every bound is here with its source. Refused is what would teach the wrong sound or cannot be
fixed; all else is a warning.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.audio.assess.disturbance_issues import disturbance_issues
from builder.audio.assess.issue import Issue, refusal, severity
from builder.audio.assess.measurements import Measurements

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
NOT_SPEECH = ("empty", "short", "voice")  # after these nothing more is said


def not_speech(found: Measurements, rate: int, *, alone: bool) -> Iterator[Issue]:
    """What is no recording of speech at all; then nothing more is said."""
    below = signal_to_noise(found)
    if found.loudness < SILENT_LUFS:
        text = "Almost nothing was recorded: choose the right microphone and move closer to it."
        yield refusal("empty", text, f"{max(found.loudness, -100):.0f} LUFS")
    elif below is not None and below < CONTRAST_MIN_DB:
        text = (
            "Nothing stands out in this recording: it is all noise, or it starts and ends in the "
            "middle of the sound. Leave half a second of silence before and after, in a quiet room."
        )
        yield refusal("empty", text, f"{below:.0f} dB")
    elif not alone and _sounding(found, rate) < WORD_MIN_S:
        text = "This recording is too short to be a word."
        yield refusal("short", text, f"{_sounding(found, rate):.2f} s")
    elif not alone and found.voiced < VOICED_MIN_SHARE:
        text = "No voice is heard in this recording: it is only noise, or it is whispered."
        yield refusal("voice", text, f"{100 * found.voiced:.0f} % voiced")


def recording_issues(found: Measurements, rate: int, *, alone: bool) -> Iterator[Issue]:
    """What holds for any sound. alone: a sound by itself."""
    yield from _clipped(found)
    yield from _level(found)
    yield from _ends(found)
    yield from _silence(found, rate)
    yield from disturbance_issues(found.disturbances, alone=alone)


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
        yield Issue(rule, severity(below < SNR_REFUSED_DB), text, f"{below:.0f} dB")
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
        yield Issue("clipped", severity(refused), text, f"{max(runs, found.near_clipped)} places")


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
            yield Issue("cut", severity(refused), text, f"{below:.0f} dB softer than the word")
