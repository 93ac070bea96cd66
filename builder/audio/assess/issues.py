"""What is to be said of a recording, in plain words, from its figures.

Every bound stands here with its source. Refused is what would teach the wrong sound or cannot be
mended; all else is a warning.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.audio.align.forced import DOUBTFUL
from builder.audio.assess.faults import Faults
from builder.audio.assess.issue import Degree, Remark
from builder.phonetics.inventory import Sound, sounds

# Hz that the sound must reach (30 dB below its maximum). S Z: listeners know /s/ of women and
# children only with a band of 9 kHz: Stelmachowicz et al., JASA 110 (2001) 2183-2190. F TH: their
# peaks lie at 7.7 and 7.5 kHz (A. Jongman et al., JASA 108 (2000) 1252-1263), and some of the
# fall above must be there (common practice, no source): telephone, also "wideband", stops before.
# SH ZH and what ends in them: the peak lies at 3.8 kHz (the same), and what tells them from s is
# the fall above: two thirds of an octave of it (common practice, no source). Others: no bound.
BAND = {
    "S": 9000.0,
    "Z": 9000.0,
    "F": 8500.0,
    "TH": 8500.0,
    "SH": 6000.0,
    "ZH": 6000.0,
    "CH": 6000.0,
    "JH": 6000.0,
}
SURE = ("S", "Z")  # must be heard up there; of weaker sounds noise may hide the top
# dB below the speech: D. Deliyski et al.: Adverse effects of environmental noise on acoustic voice
# quality measurements. Journal of Voice 19 (2005) 15-28: 42 recommended, 30 at least.
NOISE_REFUSED, NOISE_WARNED = 30.0, 42.0
# Runs of three or more samples at full scale, or tops cut off flat below it; one may be chance.
CLIPPED, CLIPPED_REFUSED = 2, 6  # (common practice, no source)
CROWDED = 10  # pieces of 5 ms up to full scale; a clean word has fewer (measured on two voices)
OFFSET = 0.01  # of full scale (common practice, no source)
HUM = 0.5  # share of the low noise that stands in lines of the mains
QUIET, TOO_QUIET = -45.0, -60.0  # LUFS (common practice, no source)
# dB below the speech; an end that is louder is cut off, or may be (common practice, no source).
CUT_REFUSED, CUT_WARNED = 20.0, 30.0
PAUSE = 0.6  # seconds inside a word (common practice, no source)
AROUND = 3.0  # seconds of silence at one end (common practice, no source)
SHORTEST = 0.1  # seconds that a word sounds (common practice, no source)
VOICED = 0.05  # share of a word that holds a voice: every word has a vowel, "sit" little of it
STANDS_OUT = 10.0  # dB; what rises less above its softest parts is noise or was cut
# Hz, 0.5-11 kHz; wide around the means of adults 6133, 4229 Hz (Jongman et al. 2000, Table I).
MEAN = {
    "S": (4500.0, 10000.0),
    "Z": (3000.0, 10000.0),
    "SH": (2800.0, 7000.0),
    "ZH": (2000.0, 7000.0),
}
# Seconds of friction, means of adults (Jongman et al. 2000); up to three times as long is usual in
# words said by themselves (common practice, no source).
LASTS = {
    "S": 0.178,
    "SH": 0.178,
    "F": 0.166,
    "TH": 0.163,
    "Z": 0.118,
    "ZH": 0.123,
    "V": 0.080,
    "DH": 0.088,
}
MORE = 3.0
# Seconds of friction from which on listeners know /ʃ z/; /f s v/ need 50 ms: A. Jongman: Duration
# of frication noise required for identification of English fricatives. JASA 85 (1989) 1718-1725.
LEAST = 0.030
HELD = 0.5  # seconds; a held target lasts longer (common practice, no source)
HUMMED = 0.7  # share of a held voiced sound in which a voice is heard (common practice, no source)
HOPELESS = ("empty", "short", "voice")  # after these nothing more is said
SURELY_NOT = 0.3  # of align.DOUBTFUL: below it another word was said


@dataclass(frozen=True)
class Target:
    """The target's figures: the highest frequency in Hz and whether noise hides what is above,
    the spectral mean in Hz (None: too short, or too low a rate), the length in seconds, and the
    share of it that holds a voice, 0..1."""

    reach: float
    hidden: bool
    mean: float | None
    seconds: float
    voiced: float


def hopeless(found: Faults, rate: int, *, alone: bool) -> Iterator[Remark]:
    """What is no recording of speech at all; then nothing more is said."""
    below = noise_below(found)
    if found.loudness < TOO_QUIET:
        text = "Next to nothing was recorded: choose the right microphone and go nearer to it."
        yield _no("empty", text, f"{max(found.loudness, -100):.0f} LUFS")
    elif below is not None and below < STANDS_OUT:
        text = (
            "Nothing stands out in this recording: it is noise throughout, or it begins and ends "
            "inside the sound. Leave half a second of silence before and after, in a quiet room."
        )
        yield _no("empty", text, f"{below:.0f} dB")
    elif not alone and _sounding(found, rate) < SHORTEST:
        text = "This recording is too short to be a word."
        yield _no("short", text, f"{_sounding(found, rate):.2f} s")
    elif not alone and found.voiced < VOICED:
        text = "No voice is heard in this recording: it holds noise only, or it is whispered."
        yield _no("voice", text, f"{100 * found.voiced:.0f} %")


def of_recording(found: Faults, rate: int) -> Iterator[Remark]:
    """What holds for any sound."""
    yield from _clipped(found)
    yield from _level(found)
    yield from _ends(found)
    yield from _silence(found, rate)


def _sounding(found: Faults, rate: int) -> float:
    return (found.spoken[1] - found.spoken[0]) / rate


def noise_below(found: Faults) -> float | None:
    """How many dB the noise lies below the speech."""
    return None if found.noise is None else min(96.0, found.loudness - found.noise)


def _level(found: Faults) -> Iterator[Remark]:
    below = noise_below(found)
    if below is not None and below < NOISE_WARNED:
        hums = found.hum > HUM
        what = "The mains hums" if hums else "The room or the microphone is noisy"
        how = "pull out chargers and move away from cables" if hums else "find a quieter room"
        text = f"{what}, only {below:.0f} dB below the voice: {how}, go nearer to the microphone."
        rule = "hum" if hums else "noise"
        yield Remark(rule, _degree(below < NOISE_REFUSED), text, f"{below:.0f} dB")
    if found.loudness < QUIET:
        text = "The recording is very quiet; it is raised, and its noise with it."
        yield Remark("quiet", "warning", text, f"{found.loudness:.0f} LUFS")
    if abs(found.offset) > OFFSET:
        text = "The recording is off centre (a fault of the microphone input); this is taken out."
        yield Remark("offset", "warning", text, f"{100 * found.offset:.1f} %")


def _clipped(found: Faults) -> Iterator[Remark]:
    runs = max(found.clipped, found.flat)
    if runs >= CLIPPED or found.crowded >= CROWDED:
        text = "The recording is clipped (too loud for the microphone): speak from further away."
        refused = runs >= CLIPPED_REFUSED
        yield Remark("clipped", _degree(refused), text, f"{max(runs, found.crowded)} places")


def _silence(found: Faults, rate: int) -> Iterator[Remark]:
    around = max(found.spoken[0] / rate, found.seconds - found.spoken[1] / rate)
    if around > AROUND:
        text = "There is much silence before or after the word; it is cut away."
        yield Remark("silence", "warning", text, f"{around:.1f} s")
    below = noise_below(found)
    if found.pause > PAUSE and (below is None or below >= NOISE_REFUSED):
        text = "There is a pause inside: say one item a recording, once, without a break."
        yield Remark("pause", "warning", text, f"{found.pause:.1f} s")


def _ends(found: Faults) -> Iterator[Remark]:
    floor = found.noise if found.noise is not None else -200.0
    for level, which, where in (
        (found.head, "first", "before"),
        (found.tail, "last", "after"),
    ):
        below = found.loudness - level
        if below < CUT_WARNED and level > floor + STANDS_OUT:
            refused = below < CUT_REFUSED
            verb = "is" if refused else "may be"
            text = (
                f"The {which} sound {verb} cut off: leave half a second of silence {where} "
                "the word."
            )
            yield Remark("cut", _degree(refused), text, f"{below:.0f} dB")


def of_word(score: float | None) -> Iterator[Remark]:
    """Whether the word was said; score: of the alignment, None when nothing was aligned."""
    if score is not None and score < DOUBTFUL:
        degree = _degree(score < SURELY_NOT * DOUBTFUL)
        yield Remark("word", degree, "This may not be the word: listen to it.", f"{score:.2f}")


def of_other(sound: Sound, other: str) -> Iterator[Remark]:
    """other: the symbol of the sound that was rather said; "" for none."""
    if other:
        ipa = sounds()[other].ipa
        yield Remark(
            "sound", "warning", f"/{sound.ipa}/ sounds more like /{ipa}/: listen to it.", ""
        )


def of_target(sound: Sound, found: Target, *, held: bool, alone: bool) -> Iterator[Remark]:
    """What holds for this sound. held: it is meant to be held."""
    yield from _band(sound, found.reach, found.hidden)
    low, high = MEAN.get(sound.symbol, (0.0, 1e9))
    if found.mean is not None and not low <= found.mean <= high:
        side = "dull" if found.mean < low else "sharp"
        text = f"/{sound.ipa}/ sounds {side} beside that of most adults: listen to it."
        yield Remark("colour", "warning", text, f"{found.mean / 1000:.1f} kHz")
    yield from _length(sound, found, held=held, alone=alone)


def _length(sound: Sound, found: Target, *, held: bool, alone: bool) -> Iterator[Remark]:
    usual, seconds = LASTS.get(sound.symbol), found.seconds
    if (held or alone) and sound.hold == "yes":
        if seconds < HELD:
            text = f"/{sound.ipa}/ is hardly held: hold it for a second or more."
            yield Remark("length", "warning", text, f"{seconds:.1f} s")
        if sound.voiced and found.voiced < HUMMED:
            text = (
                f"/{sound.ipa}/ loses its voice while it is held: keep humming, or say it shorter."
            )
            yield Remark("devoiced", "warning", text, f"{100 * found.voiced:.0f} %")
    elif usual and not alone and not LEAST <= seconds <= MORE * usual:
        side = "short" if seconds < LEAST else "long"
        text = f"/{sound.ipa}/ is very {side}: say the word as in talking."
        yield Remark("length", "warning", text, f"{1000 * seconds:.0f} ms")


def _band(sound: Sound, reach: float, hidden: bool) -> Iterator[Remark]:
    least = BAND.get(sound.symbol, 0.0)
    if not 0 < reach < least:
        return
    found, needs = f"{reach / 1000:.1f} kHz", f"{least / 1000:g} kHz"
    if hidden and sound.symbol not in SURE:
        text = f"Noise covers /{sound.ipa}/ above {found}: record in a quieter room, nearer."
        yield Remark("band", "warning", text, found)
        return
    how = (
        f"Noise covers /{sound.ipa}/ above {found}"
        if hidden
        else (f"Nothing of /{sound.ipa}/ is heard above {found}")
    )
    text = (
        f"{how}; it needs at least {needs}. Phone memos and calls cut it off: record on the page "
        f"of 'practice-site record'. If it was recorded well, the /{sound.ipa}/ is too soft: say "
        "it again, sharper."
    )
    yield _no("band", text, found)


def _degree(refused: bool) -> Degree:
    return "refused" if refused else "warning"


def _no(rule: str, sentence: str, figure: str) -> Remark:
    return Remark(rule, "refused", sentence, figure)
